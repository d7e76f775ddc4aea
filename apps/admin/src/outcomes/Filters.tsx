import { useTranslate } from 'react-admin';
import type { OutcomeReport } from '@lensferry/contracts';
import { type FilterName, useFilters } from './use-filters';

const MONTHS = ['1', '3', '6', '12', '24'];

/** What the eyes of a report are narrowed to. */
export function Filters({ choices }: { choices: OutcomeReport['choices'] | undefined }) {
  const t = useTranslate();
  const found = (of: keyof OutcomeReport['choices'], named?: (label: string) => string) =>
    (choices?.[of] ?? []).map(({ value, label, n }) => ({
      value,
      label: `${named ? named(label) : label} (${n})`,
    }));
  const fixed = (name: string, values: readonly string[]) =>
    values.map((value) => ({ value, label: t(`outcome.${name}.${value}`) }));
  return (
    <div className="filters no-print" role="search" aria-label={t('outcome.narrow')}>
      <Choice name="clinicId" choices={found('clinic')} />
      <Choice name="surgeonId" choices={found('surgeon')} />
      <Choice name="makerId" choices={found('maker')} />
      <Choice name="designCode" choices={found('design')} />
      <Choice name="cylinder" choices={fixed('cylinder', ['below4', 'from4'])} />
      <Choice name="cone" choices={fixed('cone', ['central', 'decentred'])} />
      <Choice name="procedure" choices={found('procedure', (name) => t(`choice.${name}`))} />
      <Choice
        name="minimumMonths"
        choices={MONTHS.map((value) => ({
          value,
          label: t('outcome.at_least', { smart_count: Number(value) }),
        }))}
      />
    </div>
  );
}

function Choice({ name, choices }: { name: FilterName; choices: { value: string; label: string }[] }) {
  const t = useTranslate();
  const { values, set } = useFilters();
  return (
    <span className="field__box">
      <select
        className="field__input"
        aria-label={t(`outcome.filter.${name}`)}
        value={values[name]}
        onChange={(event) => set(name, event.target.value)}
      >
        <option value="">{t(`outcome.any.${name}`)}</option>
        {choices.map(({ value, label }) => (
          <option key={value} value={value}>
            {label}
          </option>
        ))}
      </select>
    </span>
  );
}
