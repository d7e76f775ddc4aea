import { Component, type ReactNode } from 'react';
import type { LocaleCode } from '../i18n/locale';
import { words } from './words';

/** Said where a part of the program is no longer there, as after an update of the server. */
export function Outdated({ locale }: { locale: LocaleCode }) {
  const say = words[locale];
  return (
    <main className="shell">
      <p>{say.outdated}</p>
      <button type="button" className="button button--filled" onClick={() => location.reload()}>
        {say.again}
      </button>
    </main>
  );
}

interface Props {
  locale: LocaleCode;
  children: ReactNode;
}

/** Catches what nothing within the admin has caught. */
export class LoadGuard extends Component<Props, { failed: boolean }> {
  override state = { failed: false };
  static getDerivedStateFromError(): { failed: boolean } {
    return { failed: true };
  }
  override render(): ReactNode {
    return this.state.failed ? <Outdated locale={this.props.locale} /> : this.props.children;
  }
}
