import { ListBase, useListContext, useStore, useTranslate } from 'react-admin';
import { liveOrderStates, orderStates } from '@lensferry/domain';
import type { OrderSummary } from '@lensferry/contracts';
import { ListBody } from '../shared/parts/ListBody';
import { ListFilters } from '../shared/parts/ListFilters';
import { Page } from '../shared/parts/Page';
import { Horizon } from './Horizon';
import { OrderTable } from './OrderTable';
import { orderViews } from './order-views';
import { SavedViews } from './SavedViews';
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
  return (
    <ListBase
      resource="orders"
      perPage={25}
      sort={{ field: 'due', order: 'ASC' }}
      filterDefaultValues={{ state: liveOrderStates.join(',') }}
      disableAuthentication
    >
      <Page
        title={t('place.orders')}
        lead={t(asTable ? 'order.table_lead' : 'order.horizon_lead')}
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
        <ListFilters
          views={views}
          search={t('order.search')}
          sorts={['due', 'recent', 'code']}
          states={orderStates.map((value) => ({ value, label: t(`order.state.${value}`) }))}
        />
        <SavedViews known={views.map(({ value }) => value)} />
        <ListBody empty={t('order.list_empty')}>
          <Orders asTable={asTable} />
        </ListBody>
      </Page>
    </ListBase>
  );
}

function Orders({ asTable }: { asTable: boolean }) {
  const { data = [] } = useListContext<OrderSummary>();
  return asTable ? <OrderTable orders={data} /> : <Horizon orders={data} />;
}
