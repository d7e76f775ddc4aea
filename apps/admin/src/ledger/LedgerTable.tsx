import { useTranslate } from 'react-admin';
import type { LedgerEntry } from '@lensferry/contracts';
import { useFormat, useToday } from '../shared/format/use-format';
import { Pill, type Tone } from '../shared/parts/Pill';
import { TableWrap } from '../shared/parts/TableWrap';

const tones: Record<LedgerEntry['kind'], Tone> = {
  order: 'plain',
  exchange: 'plain',
  open: 'sea',
  credited: 'moss',
  written_off: 'amber',
};
const columns = ['charged', 'expected', 'credited', 'difference', 'writtenOff'] as const;

/** The entries, newest first. */
export function LedgerTable({ entries }: { entries: LedgerEntry[] }) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday();
  return (
    <TableWrap label={t('list.table', { name: t('place.ledger') })}>
      <table className="table table--stack">
        <thead>
          <tr>
            <th scope="col">{t('ledger.number')}</th>
            <th scope="col">{t('ledger.kind_head')}</th>
            <th scope="col">{t('ledger.day')}</th>
            {columns.map((name) => (
              <th key={name} scope="col" className="number">
                {t(`ledger.column.${name}`)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {entries.map((entry) => {
            const order = entry.kind === 'order' || entry.kind === 'exchange';
            return (
              <tr key={entry.id}>
                <th scope="row">
                  <a className="mono" href={`/${order ? 'orders' : 'returns'}/${entry.id}`}>
                    {entry.number}
                  </a>
                  <p className="muted small">
                    {entry.maker.name} · {entry.clinic.name}
                  </p>
                </th>
                <td>
                  <Pill tone={tones[entry.kind]}>{t(`ledger.kind.${entry.kind}`)}</Pill>
                  {entry.note && <p className="muted small ledger-note">{entry.note}</p>}
                </td>
                <td>{format.date.dayAndDistance(entry.on, today)}</td>
                {columns.map((name) => (
                  <td key={name} className="number nowrap" data-label={t(`ledger.column.${name}`)}>
                    {Number(entry[name]) === 0 ? null : format.money(entry[name], entry.currency)}
                  </td>
                ))}
              </tr>
            );
          })}
        </tbody>
      </table>
    </TableWrap>
  );
}
