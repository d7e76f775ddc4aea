import { useListContext, useTranslate } from 'react-admin';
import { endsOf, returnLifecycle, returnStates } from '@lensferry/domain';
import type { ReturnSummary } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { useMay } from '../providers/session';
import { useFormat } from '../shared/format/use-format';
import { CaseName } from '../shared/parts/CaseName';
import { Pill } from '../shared/parts/Pill';
import { WindowPill } from './WindowPill';
import { ListFrame } from '../shared/parts/ListFrame';
import { TableWrap } from '../shared/parts/TableWrap';

const ends = endsOf(returnLifecycle);
/** Returns that still have a step ahead. */
const open = returnStates.filter((state) => !ends.includes(state));

export const asks = {
  list: { resource: 'returns', sort: 'due', filter: { state: open.join(',') } },
} satisfies Asks;

/** Lenses on their way back to their makers, the window that closes first on top. */
export function ReturnListPage() {
  const t = useTranslate();
  const mayReadLedger = useMay('ledger.read');
  return (
    <ListFrame
      asked={asks.list}
      title={t('place.returns')}
      lead={t('return.list_lead')}
      empty={t('return.list_empty')}
      actions={mayReadLedger && <a href="/ledger">{t('place.ledger')}</a>}
      filters={{
        search: t('return.search'),
        states: returnStates.map((value) => ({ value, label: t(`return.state.${value}`) })),
        sorts: ['due', 'recent', 'code'],
      }}
    >
      <Rows />
    </ListFrame>
  );
}

function Rows() {
  const t = useTranslate();
  const format = useFormat();
  const { data = [] } = useListContext<ReturnSummary>();
  return (
    <TableWrap label={t('list.table', { name: t('place.returns') })}>
      <table className="table table--stack">
        <thead>
          <tr>
            <th>{t('return.number')}</th>
            <th>{t('lens.one')}</th>
            <th>{t('return.stands')}</th>
            <th>{t('return.window')}</th>
            <th>{t('return.credit')}</th>
          </tr>
        </thead>
        <tbody>
          {data.map((one) => (
            <tr key={one.id}>
              <th scope="row">
                <a className="mono" href={`/returns/${one.id}`}>
                  {one.number}
                </a>
                <p className="muted small">{one.maker.name}</p>
              </th>
              <td>
                <span className="mono">{one.lens.serial}</span>
                <p className="small">{one.case && <CaseName of={one.case} />}</p>
              </td>
              <td>
                <Pill
                  tone={one.state === 'credited' ? 'moss' : one.state === 'written_off' ? 'plain' : 'sea'}
                >
                  {t(`return.state.${one.state}`)}
                </Pill>
                <p className="muted small">{t(`exchange.reason.${one.reason}`, { _: one.reason })}</p>
              </td>
              <td>
                <WindowPill of={one} />
              </td>
              <td className="nowrap">
                {one.creditGot
                  ? format.money(one.creditGot, one.currency)
                  : t('return.expects', { amount: format.money(one.creditExpected, one.currency) })}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableWrap>
  );
}
