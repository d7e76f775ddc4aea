import { Component, type ReactNode } from 'react';
import type { LocaleCode } from '../i18n/locale';
import { words } from './words';

interface Props {
  locale: LocaleCode;
  children: ReactNode;
}

/** Catches a part of the program that is no longer there, as after an update of the server. */
export class LoadGuard extends Component<Props, { failed: boolean }> {
  override state = { failed: false };
  static getDerivedStateFromError(): { failed: boolean } {
    return { failed: true };
  }
  override render(): ReactNode {
    if (!this.state.failed) return this.props.children;
    const say = words[this.props.locale];
    return (
      <main className="shell">
        <p>{say.outdated}</p>
        <button type="button" className="button button--filled" onClick={() => location.reload()}>
          {say.again}
        </button>
      </main>
    );
  }
}
