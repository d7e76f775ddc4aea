import { useTranslate } from 'react-admin';
import { useFormat } from '../format/use-format';
import { DoubtBar } from './DoubtBar';
import { percentOn } from './scales';
import { MAX_UM, type SizeInBars } from './SizeBars';

interface Props {
  size: SizeInBars;
  chosen: boolean;
  /** The intended band in percent of the picture. */
  band: { left: number; width: number };
  measuredUm: number | null;
  onChoose: ((lengthMm: number) => void) | undefined;
}

/** One size: its length, its hatched vault over the intended band, and the share of eyes inside it. */
export function SizeRow({ size, chosen, band, measuredUm, onChoose }: Props) {
  const t = useTranslate();
  const format = useFormat();
  const { lengthMm, vaultUm, intended } = size;
  return (
    <tr className={chosen ? 'sizes__chosen' : undefined}>
      <th scope="row" className="mono">
        {onChoose ? (
          <button
            type="button"
            className="sizes__pick"
            aria-pressed={chosen}
            onClick={() => onChoose(lengthMm)}
          >
            {format.mm(lengthMm)}
          </button>
        ) : (
          <span>{format.mm(lengthMm)}</span>
        )}
        {chosen && <span className="unseen"> {t('draw.chosen')}</span>}
      </th>
      <td>
        <DoubtBar
          low={vaultUm.p10}
          middle={vaultUm.p50}
          high={vaultUm.p90}
          min={0}
          max={MAX_UM}
          strong={chosen}
          label={t('draw.vault_likely', { vault: format.umRange(vaultUm.p10, vaultUm.p90) })}
        >
          <span className="doubt__band" style={{ left: `${band.left}%`, width: `${band.width}%` }} />
          {measuredUm !== null && (
            <span className="doubt__measured" style={{ left: `${percentOn(measuredUm, 0, MAX_UM)}%` }} />
          )}
        </DoubtBar>
      </td>
      <td className="mono number">{format.percent(intended)}</td>
    </tr>
  );
}
