import { useTranslate } from 'react-admin';
import type { MakerSummary } from '@lensferry/contracts';
import { useSession } from '../providers/session';
import { useRead } from '../providers/use-read';
import { useListFilter } from '../shared/parts/use-list-filter';
import type { LedgerFilter } from './use-ledger-query';

/** Whose ledger, of which clinic and of which days. */
export function LedgerFilters() {
  const t = useTranslate();
  const { clinics } = useSession();
  const { values, show } = useListFilter();
  const valueOf = (name: LedgerFilter) => String(values[name] ?? '');
  const set = (name: LedgerFilter, value: string) => show({ ...values, [name]: value || undefined });
  const makers = useRead<{ items: MakerSummary[] }>('/makers').data?.items ?? [];
  const choices = { makerId: makers, clinicId: clinics };
  return (
    <div className="filters ledger-filters no-print" role="search" aria-label={t('ledger.narrow')}>
      {(['makerId', 'clinicId'] as const)
        .filter((name) => choices[name].length > 1)
        .map((name) => (
          <span key={name} className="field__box">
            <select
              className="field__input"
              aria-label={t(`ledger.filter.${name}`)}
              value={valueOf(name)}
              onChange={(event) => set(name, event.target.value)}
            >
              <option value="">{t(`ledger.any.${name}`)}</option>
              {choices[name].map(({ id, name: label }) => (
                <option key={id} value={id}>
                  {label}
                </option>
              ))}
            </select>
          </span>
        ))}
      {(['from', 'to'] as const).map((name) => (
        <label key={name} className="ledger-day">
          <span className="muted">{t(`ledger.filter.${name}`)}</span>
          <span className="field__box">
            <input
              className="field__input"
              type="date"
              value={valueOf(name)}
              onChange={(event) => set(name, event.target.value)}
            />
          </span>
        </label>
      ))}
    </div>
  );
}
