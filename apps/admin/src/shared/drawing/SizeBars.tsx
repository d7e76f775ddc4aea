import { useTranslate } from 'react-admin';
import type { SizeOption } from '@lensferry/contracts';
import { useFormat } from '../format/use-format';
import { DoubtBar } from './DoubtBar';
import { percentOn } from './scales';

interface Props {
  sizes: readonly (Omit<SizeOption, 'low' | 'high'> & Partial<SizeOption>)[];
  chosenMm: number | null;
  /** The intended band, µm. */
  band: { lowUm: number; highUm: number };
  measured?: { lengthMm: number; vaultUm: number } | null;
  onChoose?: (lengthMm: number) => void;
}

const MAX_UM = 1300;

/** Each size with the vault it would give, over the intended band; the share inside it stands at the right. */
export function SizeBars({ sizes, chosenMm, band, measured, onChoose }: Props) {
  const t = useTranslate();
  const format = useFormat();
  const left = percentOn(band.lowUm, 0, MAX_UM);
  const right = percentOn(band.highUm, 0, MAX_UM);
  const intended = <span className="doubt__band" style={{ left: `${left}%`, width: `${right - left}%` }} />;
  return (
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
        {sizes.map(({ lengthMm, vaultUm, intended: share }) => (
          <tr key={lengthMm} className={lengthMm === chosenMm ? 'sizes__chosen' : undefined}>
            <th scope="row" className="mono">
              {onChoose ? (
                <button
                  type="button"
                  className="sizes__pick"
                  aria-pressed={lengthMm === chosenMm}
                  onClick={() => onChoose(lengthMm)}
                >
                  {format.mm(lengthMm)}
                </button>
              ) : (
                <span>{format.mm(lengthMm)}</span>
              )}
              {lengthMm === chosenMm && <span className="unseen"> {t('draw.chosen')}</span>}
            </th>
            <td>
              <DoubtBar
                low={vaultUm.p10}
                middle={vaultUm.p50}
                high={vaultUm.p90}
                min={0}
                max={MAX_UM}
                strong={lengthMm === chosenMm}
                label={t('draw.vault_likely', { vault: format.umRange(vaultUm.p10, vaultUm.p90) })}
              >
                {intended}
                {measured?.lengthMm === lengthMm && (
                  <span
                    className="doubt__measured"
                    style={{ left: `${percentOn(measured.vaultUm, 0, MAX_UM)}%` }}
                    title={t('draw.vault_measured', { vault: format.um(measured.vaultUm) })}
                  />
                )}
              </DoubtBar>
            </td>
            <td className="mono number">{format.percent(share)}</td>
          </tr>
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
  );
}
