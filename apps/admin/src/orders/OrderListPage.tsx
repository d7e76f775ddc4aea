import { useDeferredValue } from 'react';
import { useListContext, useStore, useTranslate } from 'react-admin';
import { liveOrderStates, orderStates } from '@lensferry/domain';
import type { OrderSummary } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { ChoosingOrders } from './choosing';
import { Horizon } from './Horizon';
import { OrderTable } from './OrderTable';
import { orderViews } from './order-views';
import { SavedViews } from './SavedViews';
import { ListFrame } from '../shared/parts/ListFrame';
import './order.css';

export const asks = {
  list: { resource: 'orders', sort: 'due', filter: { state: liveOrderStates.join(',') } },
} satisfies Asks;

/** All orders, as a horizon (each a crossing towards its theatre date) or as a table. */
export function OrderListPage() {
  const t = useTranslate();
  const views = orderViews.map(({ name, states }) => ({
    value: states.join(','),
    label: t(`order.view.${name}`),
  }));
  const [view, setView] = useStore<'horizon' | 'table'>('orders.view', 'horizon');
  const asTable = view === 'table';
  // The button answers at once; a hundred rows of the other view follow when they are drawn.
  const drawnAsTable = useDeferredValue(asTable);
  return (
    <ListFrame
      asked={asks.list}
      title={t('place.orders')}
      lead={t(asTable ? 'order.table_lead' : 'order.horizon_lead')}
      empty={t('order.list_empty')}
      filters={{
        views,
        search: t('order.search'),
        sorts: ['due', 'recent', 'code'],
        states: orderStates.map((value) => ({ value, label: t(`order.state.${value}`) })),
      }}
      views={<SavedViews known={views.map(({ value }) => value)} />}
      actions={
        <div className="steps" role="group" aria-label={t('order.views')}>
          <button type="button" className="chip" aria-pressed={!asTable} onClick={() => setView('horizon')}>
            {t('order.as_horizon')}
          </button>
          <button type="button" className="chip" aria-pressed={asTable} onClick={() => setView('table')}>
            {t('order.as_table')}
          </button>
        </div>
      }
    >
      <Orders asTable={drawnAsTable} />
    </ListFrame>
  );
}

/** No row of either view is lower. */
const LOWEST_ROW_PX = 60;

/** What fills the screen comes first and can be used at once; the rows below it follow without holding anybody up. */
function Orders({ asTable }: { asTable: boolean }) {
  const { data = [] } = useListContext<OrderSummary>();
  const fill = Math.ceil(window.innerHeight / LOWEST_ROW_PX);
  const orders = useDeferredValue(data, data.slice(0, fill));
  return (
    <ChoosingOrders orders={data}>
      {asTable ? <OrderTable orders={orders} /> : <Horizon orders={orders} scaleOf={data} />}
    </ChoosingOrders>
  );
}
