import { useTranslate } from 'react-admin';
import type { SizeOption } from '@lensferry/contracts';
import { useFormat } from '../format/use-format';
import { SizeRow } from './SizeRow';
import { percentOn, sizesToShow } from './scales';

export type SizeInBars = Omit<SizeOption, 'low' | 'high'>;

interface Props {
  sizes: readonly SizeInBars[];
  chosenMm: number | null;
  /** The intended band, µm. */
  band: { lowUm: number; highUm: number };
  measured?: { lengthMm: number; vaultUm: number } | null;
  onChoose?: (lengthMm: number) => void;
}

export const MAX_UM = 1300;

/** Each size with the vault it would give, over the intended band; the share inside it stands at the right. */
export function SizeBars({ sizes, chosenMm, band, measured = null, onChoose }: Props) {
  const t = useTranslate();
  const format = useFormat();
  const left = percentOn(band.lowUm, 0, MAX_UM);
  const right = percentOn(band.highUm, 0, MAX_UM);
  return (
    <>
      <table className="sizes">
        <caption className="unseen">{t('draw.sizes_caption')}</caption>
        <thead className="unseen">
          <tr>
            <th>{t('draw.size')}</th>
            <th>{t('draw.vault')}</th>
            <th>{t('draw.share')}</th>
          </tr>
        </thead>
        <tbody>
          {sizesToShow(sizes, [chosenMm, measured?.lengthMm]).map((size) => (
            <SizeRow
              key={size.lengthMm}
              size={size}
              chosen={size.lengthMm === chosenMm}
              band={{ left, width: right - left }}
              measuredUm={measured?.lengthMm === size.lengthMm ? measured.vaultUm : null}
              onChoose={onChoose}
            />
          ))}
          <tr className="sizes__foot" aria-hidden="true">
            <td />
            <td>
              <span style={{ left: `${left / 2}%` }}>{t('draw.low')}</span>
              <span className="sizes__intended" style={{ left: `${(left + right) / 2}%` }}>
                {t('draw.intended', { band: format.umRange(band.lowUm, band.highUm) })}
              </span>
              <span style={{ left: `${(right + 100) / 2}%` }}>{t('draw.high')}</span>
            </td>
            <td />
          </tr>
        </tbody>
      </table>
      {measured && (
        <p className="small muted">
          <span className="sizes__measured" aria-hidden="true" />
          {t('draw.measured_with', {
            vault: format.um(measured.vaultUm),
            length: format.mm(measured.lengthMm),
          })}
        </p>
      )}
    </>
  );
}
