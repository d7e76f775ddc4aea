import { useDeferredValue } from 'react';
import { useListContext, useStore, useTranslate } from 'react-admin';
import { liveOrderStates, orderStates } from '@lensferry/domain';
import type { OrderSummary } from '@lensferry/contracts';
import { ChoosingOrders } from './choosing';
import { Horizon } from './Horizon';
import { OrderTable } from './OrderTable';
import { orderViews } from './order-views';
import { SavedViews } from './SavedViews';
import { ListFrame } from '../shared/parts/ListFrame';
import './order.css';

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
      resource="orders"
      title={t('place.orders')}
      lead={t(asTable ? 'order.table_lead' : 'order.horizon_lead')}
      empty={t('order.list_empty')}
      sort="due"
      filter={{ state: liveOrderStates.join(',') }}
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

/** As many rows as fill a tall screen. */
const FIRST_ROWS = 25;

/** What fills the screen comes first and can be used at once; the rows below it follow without holding anybody up. */
function Orders({ asTable }: { asTable: boolean }) {
  const { data = [] } = useListContext<OrderSummary>();
  const orders = useDeferredValue(data, data.slice(0, FIRST_ROWS));
  return (
    <ChoosingOrders orders={data}>
      {asTable ? <OrderTable orders={orders} /> : <Horizon orders={orders} scaleOf={data} />}
    </ChoosingOrders>
  );
}
