import { memo } from 'react';
import { useTranslate } from 'react-admin';
import type { OrderSummary } from '@lensferry/contracts';
import { CrossingLine } from '../shared/drawing/CrossingLine';
import { horizonDays, toneOfChance } from '../shared/drawing/scales';
import { useFormat, useToday } from '../shared/format/use-format';
import { CaseName } from '../shared/parts/CaseName';
import { Pill } from '../shared/parts/Pill';
import { ChooseOrder } from './choosing';
import { OrderStatePill } from './OrderStatePill';
import { useOrderTeller, type OrderTeller } from './order-sentence';

interface Props {
  orders: readonly OrderSummary[];
  /** The orders that the scale of days is for, where only the first of them are drawn yet. */
  scaleOf?: readonly OrderSummary[];
}

/** Orders as crossings on one scale of days: late is seen before it is read. */
export function Horizon({ orders, scaleOf = orders }: Props) {
  const today = useToday();
  const teller = useOrderTeller();
  const days = horizonDays(
    scaleOf.map(({ forecast, needBy, promisedOn, arrivedAt }) =>
      arrivedAt === null && forecast ? { ...forecast, needBy, promisedOn } : null,
    ),
    today,
  );
  return (
    <ul className="horizon">
      {orders.map((order) => (
        <HorizonRow key={order.id} order={order} days={days} teller={teller} />
      ))}
    </ul>
  );
}

interface RowProps {
  order: OrderSummary;
  days: number;
  teller: OrderTeller;
}

/** Drawn again only when its order is another: a list is read anew whenever anything moves anywhere. */
const HorizonRow = memo(function HorizonRow({ order, days, teller }: RowProps) {
  const t = useTranslate();
  const format = useFormat();
  const asked = teller.askedSince(order);
  const chance = order.forecast?.inTime ?? null;
  const under = order.forecast !== null && order.arrivedAt === null;
  return (
    <li className="horizon__row">
      <div>
        <ChooseOrder order={order} />
        <CaseName of={order.case} />
        <p className="muted small">
          <a className="mono" href={`/orders/${order.id}`}>
            {order.number}
          </a>{' '}
          · {order.maker.name}
        </p>
        {under && asked && <p className="muted small">{asked}</p>}
      </div>
      {under ? (
        <CrossingLine order={order} days={days} />
      ) : (
        <p className="muted small">{teller.sentence(order)}</p>
      )}
      <div>
        <OrderStatePill order={order} />
        {under && chance !== null && (
          <Pill tone={toneOfChance(chance)}>{t('order.in_time', { chance: format.percent(chance) })}</Pill>
        )}
      </div>
    </li>
  );
});
