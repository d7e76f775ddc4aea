import { useTranslate } from 'react-admin';
import type { ModelCheck } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';
import { TableWrap } from '../shared/parts/TableWrap';

const width = 420;
const height = 190;
const edge = { left: 44, right: 30, top: 10, bottom: 26 };

/** What a proposed model changes: an average eye's vault at each length, before and after, and how far each can be believed. */
export function ModelChange({ check, name }: { check: ModelCheck; name: string }) {
  const t = useTranslate();
  const format = useFormat();
  const all = check.lengths.flatMap(({ before, after }) => [before, after]);
  const low = Math.min(0, ...all.map(({ lowUm }) => lowUm));
  const high = Math.max(...all.map(({ highUm }) => highUm));
  const y = (um: number) =>
    edge.top + ((high - um) / Math.max(1, high - low)) * (height - edge.top - edge.bottom);
  const step = (width - edge.left - edge.right) / Math.max(1, check.lengths.length);
  const told = t('model.change', {
    design: name,
    before: format.whole(check.before.errorUm),
    after: format.whole(check.after.errorUm),
    smart_count: check.eyes,
  });
  return (
    <figure className="form">
      <figcaption className="strong">{told}</figcaption>
      <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label={told} className="model-change">
        {[low, 0, 500, 1000, high]
          .filter((um, i, list) => um >= low && um <= high && list.indexOf(um) === i)
          .map((um) => (
            <g key={um}>
              <line
                x1={edge.left}
                x2={width - edge.right}
                y1={y(um)}
                y2={y(um)}
                className="model-change__grid"
              />
              <text x={edge.left - 6} y={y(um) + 4} textAnchor="end" className="model-change__text">
                {format.whole(um)}
              </text>
            </g>
          ))}
        {check.lengths.map(({ lengthMm, before, after }, i) => {
          const x = edge.left + (i + 0.5) * step;
          return (
            <g key={lengthMm}>
              <line
                x1={x - 4}
                x2={x - 4}
                y1={y(before.lowUm)}
                y2={y(before.highUm)}
                className="model-change__before"
              />
              <circle cx={x - 4} cy={y(before.vaultUm)} r={4} className="model-change__before" />
              <line
                x1={x + 5}
                x2={x + 5}
                y1={y(after.lowUm)}
                y2={y(after.highUm)}
                className="model-change__after"
              />
              <rect x={x + 1} y={y(after.vaultUm) - 4} width={8} height={8} className="model-change__after" />
              {(i % 2 === 0 || check.lengths.length < 9) && (
                <text x={x} y={height - 8} textAnchor="middle" className="model-change__text">
                  {format.mm(lengthMm)}
                </text>
              )}
            </g>
          );
        })}
      </svg>
      <p className="muted small">
        {t('model.legend')} {t(`model.how.${check.how}`)}
      </p>
      <details className="figure__table">
        <summary>{t('model.table')}</summary>
        <TableWrap label={t('model.table')}>
          <table className="table">
            <thead>
              <tr>
                <th scope="col">{t('model.length')}</th>
                <th scope="col">{t('model.before')}</th>
                <th scope="col">{t('model.after')}</th>
              </tr>
            </thead>
            <tbody>
              {check.lengths.map(({ lengthMm, before, after }) => (
                <tr key={lengthMm}>
                  <th scope="row" className="mono">
                    {format.mm(lengthMm)}
                  </th>
                  {[before, after].map(({ vaultUm, lowUm, highUm }, i) => (
                    <td key={i} className="mono">
                      {t('model.range', {
                        vault: format.whole(vaultUm),
                        low: format.whole(lowUm),
                        high: format.whole(highUm),
                      })}
                    </td>
                  ))}
                </tr>
              ))}
              {check.after.coverage.map((share, i) => (
                <tr key={share.level}>
                  <th scope="row">{t('model.held', { level: format.percent(share.level) })}</th>
                  {[check.before.coverage[i], share].map((one, at) => (
                    <td key={at} className="mono">
                      {one ? `${one.count} / ${one.n}` : '–'}
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </TableWrap>
      </details>
    </figure>
  );
}
