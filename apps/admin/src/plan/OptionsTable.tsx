import { useTranslate } from 'react-admin';
import type { LensOption } from '@lensferry/contracts';
import { TableWrap } from '../shared/parts/TableWrap';
import { OptionRow } from './OptionRow';
import { sameLens, type ChosenLens } from './same-lens';

interface Props {
  options: readonly LensOption[];
  chosen: ChosenLens | null;
  onChoose?: (option: LensOption) => void;
  /** Without price and kind of making. */
  compact?: boolean;
}

/** The lenses that can be made, each with what it would leave: the middle and where 8 in 10 fall. */
export function OptionsTable({ options, chosen, onChoose, compact = false }: Props) {
  const t = useTranslate();
  return (
    <TableWrap label={t('list.table', { name: t('plan.lenses') })}>
      <table className="table table--stack">
        <thead>
          <tr>
            <th>{t('plan.lens')}</th>
            <th>{t('plan.would_leave')}</th>
            <th>{t('plan.within_half')}</th>
            <th>{t('plan.maker')}</th>
            {!compact && <th>{t('plan.takes')}</th>}
          </tr>
        </thead>
        <tbody>
          {options.map((option) => (
            <OptionRow
              key={`${option.designVersionId}${option.sphereD}${option.cylinderD}${option.axisDeg}`}
              option={option}
              mine={sameLens(option, chosen)}
              onChoose={onChoose}
              compact={compact}
            />
          ))}
        </tbody>
      </table>
    </TableWrap>
  );
}
