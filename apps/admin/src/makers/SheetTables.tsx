import { useTranslate } from 'react-admin';
import type { SheetDifference, SheetFault } from '@lensferry/contracts';
import { TableWrap } from '../shared/parts/TableWrap';

/** Everything that is wrong in a file, by its row. */
export function SheetFaults({ faults }: { faults: readonly SheetFault[] }) {
  const t = useTranslate();
  return (
    <TableWrap label={t('maker.sheet.fault_table')}>
      <table className="table table--stack">
        <thead>
          <tr>
            <th scope="col">{t('maker.sheet.row')}</th>
            <th scope="col">{t('maker.sheet.column')}</th>
            <th scope="col">{t('maker.sheet.value')}</th>
            <th scope="col">{t('maker.sheet.mend')}</th>
          </tr>
        </thead>
        <tbody>
          {faults.map(({ row, column, value, message }) => (
            <tr key={`${row} ${column} ${message}`}>
              <td data-label={t('maker.sheet.row')}>{row}</td>
              <td className="mono" data-label={t('maker.sheet.column')}>
                {column}
              </td>
              <td className="mono" data-label={t('maker.sheet.value')}>
                {value || '–'}
              </td>
              <td>{message}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableWrap>
  );
}

/** What a file changes, before and after with the unit. */
export function SheetDifferences({ differences }: { differences: readonly SheetDifference[] }) {
  const t = useTranslate();
  const told = (text: string, unit: string) => (text === '' ? '–' : `${text} ${unit}`.trim());
  return (
    <TableWrap label={t('maker.sheet.change_table')}>
      <table className="table table--stack">
        <thead>
          <tr>
            <th scope="col">{t('maker.sheet.field')}</th>
            <th scope="col">{t('maker.sheet.before')}</th>
            <th scope="col">{t('maker.sheet.after')}</th>
          </tr>
        </thead>
        <tbody>
          {differences.map(({ field, unit, before, after }) => (
            <tr key={field}>
              <th scope="row" className="mono">
                {field}
              </th>
              <td className="mono" data-label={t('maker.sheet.before')}>
                {told(before, unit)}
              </td>
              <td className="mono strong" data-label={t('maker.sheet.after')}>
                {told(after, unit)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableWrap>
  );
}
