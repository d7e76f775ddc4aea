import type { LocaleCode } from '../i18n/locale';
import { words } from './words';

export function Waiting({ locale }: { locale: LocaleCode }) {
  return (
    <main className="shell" aria-busy="true">
      <div className="shell__ferry" aria-hidden="true">
        <span />
      </div>
      <p className="unseen" role="status">
        {words[locale].loading}
      </p>
    </main>
  );
}
