import { useState } from 'react';
import { useTranslate } from 'react-admin';
import { TableWrap } from '../shared/parts/TableWrap';
import type { Figure } from './figure-model';

/** The numbers beneath a figure, written when somebody opens them: thousands of rows must not slow the picture. */
export function FigureTable({ figure: { name, table } }: { figure: Figure }) {
  const t = useTranslate();
  const [open, setOpen] = useState(false);
  return (
    <details className="figure__table" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{t('outcome.table')}</summary>
      {open && (
        <TableWrap label={t('list.table', { name })}>
          <table className="table">
            <thead>
              <tr>
                {table.head.map((head) => (
                  <th key={head} scope="col">
                    {head}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {table.rows.map((row, i) => (
                <tr key={i}>
                  <th scope="row">{row[0]}</th>
                  {row.slice(1).map((cell, at) => (
                    <td key={at} className="number mono">
                      {cell}
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </TableWrap>
      )}
    </details>
  );
}
