import { useTranslate } from 'react-admin';
import type { PooledOutcomes, VaultLearning } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { useFormat, useToday } from '../shared/format/use-format';
import { Answer } from '../shared/parts/Answer';
import { Section } from '../shared/parts/Page';
import { TableWrap } from '../shared/parts/TableWrap';

type Row = PooledOutcomes['rows'][number];

/** Own clinics beside all others together, of whom nothing but sums is known. */
export function Pooled() {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday();
  const pooled = useRead<PooledOutcomes>('/outcomes/pooled');
  const name = ({ measure, of }: Row) =>
    [t(`outcome.pooled.${measure}`), of].filter((part) => part !== null).join(' · ');
  const text = (measure: Row['measure'], estimate: Row['own']) => {
    if (estimate === null) return null;
    const value = (number: number) =>
      measure === 'medianDays'
        ? format.whole(number)
        : measure === 'meanErrorD' || measure === 'offsetD'
          ? format.dioptres(number)
          : format.percent(number);
    return `${value(estimate.estimate)} (${value(estimate.low)} – ${value(estimate.high)}), n ${estimate.n}`;
  };
  return (
    <Section title={t('outcome.section.pooled')} note={t('outcome.pooled.note')}>
      <Answer query={pooled}>
        {({ rows }) => (
          <TableWrap label={t('list.table', { name: t('outcome.section.pooled') })}>
            <table className="table">
              <thead>
                <tr>
                  {['measure', 'own', 'others'].map((head) => (
                    <th key={head} scope="col">
                      {t(`outcome.head.${head}`)}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {rows.map((row) => (
                  <tr key={`${row.measure}${row.of ?? ''}`}>
                    <th scope="row">{name(row)}</th>
                    <td className="mono">{text(row.measure, row.own) ?? '–'}</td>
                    <td>
                      {row.others === null ? (
                        <span className="muted">{t('outcome.pooled.hidden')}</span>
                      ) : (
                        <>
                          <span className="mono">{text(row.measure, row.others)}</span>{' '}
                          <span className="muted">
                            {t('outcome.pooled.of', {
                              clinics: row.others.clinics,
                              day: format.date.day(row.others.asOf, today),
                            })}
                          </span>
                        </>
                      )}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </TableWrap>
        )}
      </Answer>
    </Section>
  );
}

/** What the same design taught with other clinics' sums; says why where they are held back. */
export function PooledVault({ pooled }: { pooled: VaultLearning['pooled'] }) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday();
  if (pooled === null) return <p className="muted">{t('outcome.pooled.no_vault')}</p>;
  return (
    <p>
      {t('outcome.pooled.vault', {
        clinics: pooled.clinics,
        eyes: pooled.eyes,
        day: format.date.day(pooled.asOf, today),
      })}{' '}
      {pooled.coefficients
        .filter(({ clinic }) => clinic === null)
        .map(
          ({ of, nowUm, sdUm }) =>
            `${t(`outcome.coefficient.${of}`)} ${format.whole(nowUm)} ± ${format.whole(sdUm)}`,
        )
        .join('; ')}
    </p>
  );
}
