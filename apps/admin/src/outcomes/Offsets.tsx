import { useTranslate } from 'react-admin';
import type { RefractionOffsets } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';
import { Pill } from '../shared/parts/Pill';
import { TableWrap } from '../shared/parts/TableWrap';

/** What achieved refraction differs from predicted by, part by part, with its doubt. */
export function Offsets({ offsets }: { offsets: RefractionOffsets }) {
  const t = useTranslate();
  const format = useFormat();
  const side = ({ estimateD, lowD, highD }: RefractionOffsets['rows'][number]['mean']) =>
    `${format.dioptres(estimateD)} (${format.diopterRange(lowD, highD)})`;
  const nameOf = ({ of, name }: RefractionOffsets['rows'][number]) =>
    of === 'all'
      ? t('outcome.offset.all')
      : `${t(`outcome.offset.${of}`)}: ${of === 'axisClass' ? t(`outcome.axis_class.${name}`) : name}`;
  return (
    <TableWrap label={t('list.table', { name: t('outcome.section.offsets') })}>
      <table className="table">
        <thead>
          <tr>
            {['of', 'n', 'mean_offset', 'j0', 'j45', 'standing'].map((head) => (
              <th key={head} scope="col">
                {t(`outcome.head.${head}`)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {offsets.rows.map((row) => (
            <tr key={`${row.of}${row.name}`}>
              <th scope="row">{nameOf(row)}</th>
              <td className="number mono">{row.n}</td>
              {[row.mean, row.j0, row.j45].map((part, i) => (
                <td key={i} className="mono">
                  {side(part)}
                </td>
              ))}
              <td>
                {row.beyondDoubt ? (
                  <Pill tone="amber">{t('outcome.worth_a_look')}</Pill>
                ) : (
                  <span className="muted">{t('outcome.within_doubt')}</span>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableWrap>
  );
}
