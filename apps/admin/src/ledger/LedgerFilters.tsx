import { useTranslate } from 'react-admin';
import type { MakerSummary } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';

interface Props {
  values: Record<'makerId' | 'clinicId' | 'from' | 'to', string>;
  clinics: readonly { id: string; name: string }[];
  set: (name: string, value: string) => void;
}

/** Whose ledger, of which clinic and of which days. */
export function LedgerFilters({ values, clinics, set }: Props) {
  const t = useTranslate();
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
              value={values[name]}
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
              value={values[name]}
              onChange={(event) => set(name, event.target.value)}
            />
          </span>
        </label>
      ))}
    </div>
  );
}
