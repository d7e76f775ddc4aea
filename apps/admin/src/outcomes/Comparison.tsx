import { useState } from 'react';
import { useTranslate } from 'react-admin';
import type { OutcomeComparison } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { useFormat, type Format } from '../shared/format/use-format';
import { Answer } from '../shared/parts/Answer';
import { Section } from '../shared/parts/Page';
import { TableWrap } from '../shared/parts/TableWrap';
import { pairsOf, type Choices, type Pair } from './pairs-to-compare';

/** Two groups of the same eyes side by side, with the test that was used. */
export function Comparison({ query, choices }: { query: string; choices: Choices }) {
  const t = useTranslate();
  const pairs = pairsOf(choices, t);
  const [key, setKey] = useState('');
  const chosen = pairs.find((pair) => pair.key === key);
  return (
    <Section title={t('outcome.section.comparison')}>
      <div className="filters no-print">
        <span className="field__box">
          <select
            className="field__input"
            aria-label={t('outcome.compare')}
            value={key}
            onChange={(event) => setKey(event.target.value)}
          >
            <option value="">{t('outcome.compare')}</option>
            {pairs.map((pair) => (
              <option key={pair.key} value={pair.key}>
                {pair.label}
              </option>
            ))}
          </select>
        </span>
      </div>
      {chosen && <Compared pair={chosen} query={query} />}
    </Section>
  );
}

/** The tests that the report names, by the names it gives them. */
const codes: Readonly<Record<string, string>> = {
  "Fisher's exact test": 'fisher',
  "Welch's t test": 'welch',
  'Mann-Whitney test, exact': 'mann_whitney',
  'Mann-Whitney test, normal approximation': 'mann_whitney_normal',
};

function valueText(format: Format, unit: string, value: number): string {
  if (unit === 'share') return format.percent(value);
  if (unit === 'µm') return format.um(value);
  return format.plain(Math.round(value * 100) / 100);
}

function Compared({ pair, query }: { pair: Pair; query: string }) {
  const t = useTranslate();
  const format = useFormat();
  const parameters = new URLSearchParams(query);
  for (const name of ['by', 'first', 'second'] as const) parameters.set(name, pair[name]);
  const answer = useRead<OutcomeComparison>(`/outcomes/comparison?${parameters.toString()}`);
  const p = (value: number) => (value < 0.001 ? '< 0.001' : value.toFixed(3));
  return (
    <Answer query={answer}>
      {({ first, second, rows }) => (
        <>
          <p>{t('outcome.compared', { pair: pair.label, first: first.eyes, second: second.eyes })}</p>
          {rows.length === 0 && <p>{t('outcome.finding.too_few')}</p>}
          <TableWrap label={t('list.table', { name: t('outcome.section.comparison') })}>
            <table className="table">
              <thead>
                <tr>
                  {['measure', 'first', 'second', 'test', 'p'].map((head) => (
                    <th key={head} scope="col">
                      {t(`outcome.head.${head}`)}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {rows.map((row) => (
                  <tr key={row.measure}>
                    <th scope="row">{t(`outcome.measure.${row.measure}`)}</th>
                    {[row.first, row.second].map((side, i) => (
                      <td key={i} className="mono">
                        {valueText(format, row.unit, side.estimate)} ({valueText(format, row.unit, side.low)}{' '}
                        – {valueText(format, row.unit, side.high)})
                      </td>
                    ))}
                    <td>{t(`outcome.test.${codes[row.test] ?? 'other'}`)}</td>
                    <td className="mono">{p(row.p)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </TableWrap>
          <p className="muted">{t('outcome.compare_note')}</p>
        </>
      )}
    </Answer>
  );
}
