import { useGetOne, useTranslate } from 'react-admin';
import { useParams } from 'react-router-dom';
import { awaitedFromMaker, type OrderState } from '@lensferry/domain';
import type { OrderDetail } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { useMay } from '../providers/session';
import { useKeepRecent } from '../frame/recent';
import { Answer } from '../shared/parts/Answer';
import { CaseName } from '../shared/parts/CaseName';
import { Cautions } from '../shared/parts/Cautions';
import { History } from '../shared/parts/History';
import { Page, Section } from '../shared/parts/Page';
import { Papers, type Paper } from '../shared/parts/Papers';
import { AskedMaker } from './AskedMaker';
import { ChangeOfOrder } from './ChangeOfOrder';
import { Differences } from './Differences';
import { FittingLens } from './FittingLens';
import { OrderArrival } from './OrderArrival';
import { OrderDialogs } from './OrderDialogs';
import { OrderFacts } from './OrderFacts';
import { OrderLens } from './OrderLens';
import { OrderSignatures } from './OrderSignatures';
import { OrderSteps } from './OrderSteps';
import { TellMaker } from '../shared/parts/TellMaker';
import { useOrderSentence } from './order-sentence';
import './order.css';

export const asks = { record: 'orders' } satisfies Asks;

/** One order: what was ordered, where it is, who signed, what went out and came back, and what can be done. */
export function OrderPage() {
  const t = useTranslate();
  const { id = '' } = useParams();
  const query = useGetOne<OrderDetail>('orders', { id });
  useKeepRecent('order', `/orders/${id}`, query.data && `${query.data.number} · ${query.data.case.codeName}`);
  return (
    <Page
      title={query.data ? t('order.title', { number: query.data.number }) : t('order.one')}
      lead={query.data && <Lead order={query.data} />}
      actions={
        query.data && (
          <a href={`/cases/${query.data.case.id}/orders`}>
            {t('common.to_case', { name: query.data.case.codeName })}
          </a>
        )
      }
    >
      <Answer query={query}>{(order) => <Order order={order} />}</Answer>
    </Page>
  );
}

/** The order's papers: what goes to its maker exists from placing on. */
function papersOf({ id, state }: OrderDetail): Paper[] {
  const told: readonly OrderState[] = ['queued', 'send_failed', ...awaitedFromMaker];
  const names = ['order-sheet', ...(told.includes(state) ? ['to-maker'] : []), 'device-statement'];
  return names.map((name) => ({ name, href: `/api/orders/${id}/${name}.pdf` }));
}

function Lead({ order }: { order: OrderDetail }) {
  const sentence = useOrderSentence(order);
  return (
    <>
      <CaseName of={order.case} /> · {sentence} · {order.maker.name} · {order.clinic.name}
    </>
  );
}

function Order({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  const mayTell = useMay('maker.tell');
  return (
    <>
      <div className="order">
        <div className="order__main">
          {order.note && <p className="note note--amber">{order.note}</p>}
          <OrderArrival order={order} />
          <AskedMaker order={order} />
          <TellMaker of={order} what="orders" paper={`/api/orders/${order.id}/to-maker.pdf`} may={mayTell} />
          <FittingLens order={order} />
          <ChangeOfOrder order={order} />
          <Differences
            title={t('order.changed_since_submission')}
            differences={order.differencesSinceSubmission}
            tone="amber"
          />
          <Differences title={t('order.differs_from_replaced')} differences={order.differencesFromReplaced} />
          <Section title={t('order.facts')}>
            <OrderFacts order={order} />
          </Section>
          <Papers papers={papersOf(order)} />
          <OrderLens order={order} />
          <OrderSignatures order={order} />
          <Section title={t('case.part.history')}>
            <History entries={order.history} zone={order.clinic.timeZone} />
          </Section>
        </div>
        <OrderSteps order={order} />
      </div>
      <Cautions />
      <OrderDialogs order={order} />
    </>
  );
}
