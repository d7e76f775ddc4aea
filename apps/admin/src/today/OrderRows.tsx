import { useTranslate } from 'react-admin';
import { awaitedFromMaker } from '@lensferry/domain';
import type { OrderSummary } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { CrossingLine } from '../shared/drawing/CrossingLine';
import { horizonDays, toneOfChance } from '../shared/drawing/scales';
import { useFormat, useToday } from '../shared/format/use-format';
import { CaseName } from '../shared/parts/CaseName';
import { LensText } from '../shared/parts/LensText';
import { Pill } from '../shared/parts/Pill';
import { Moment } from '../shared/parts/When';
import { mainStep, otherSteps, stepPath } from '../orders/order-steps';
import { useOrderSentence } from '../orders/order-sentence';
import { Fold } from './Fold';
import { Row } from './Row';

export function AtRiskRows({ orders, first }: { orders: readonly OrderSummary[]; first: boolean }) {
  const today = useToday();
  const days = horizonDays(
    orders.map(({ forecast, needBy, promisedOn }) => forecast && { ...forecast, needBy, promisedOn }),
    today,
  );
  return (
    <Fold>
      {orders.map((order, i) => (
        <AtRiskRow key={order.id} order={order} days={days} filled={first && i === 0} />
      ))}
    </Fold>
  );
}

function AtRiskRow({ order, days, filled }: { order: OrderSummary; days: number; filled: boolean }) {
  const t = useTranslate();
  const format = useFormat();
  const sentence = useOrderSentence(order);
  const maySchedule = useMay('case.schedule');
  const mayTell = useMay('maker.tell');
  const chance = order.forecast?.inTime ?? null;
  const tone = chance === null ? (order.late ? 'amber' : 'plain') : toneOfChance(chance);
  const move = maySchedule && chance !== null && chance < 0.5;
  const act = move
    ? { to: `/cases/${order.case.id}?do=schedule`, label: t('today.act.move_theatre') }
    : tone === 'moss' && !order.late
      ? null
      : mayTell && order.inquiry === null && awaitedFromMaker.includes(order.state)
        ? { to: `/orders/${order.id}?do=ask`, label: t('asking.ask_one') }
        : { to: `/orders/${order.id}`, label: t('today.act.open_order') };
  return (
    <Row
      name={<CaseName of={order.case} />}
      detail={
        <>
          {order.maker.name}, {order.designName}, <span className="mono">{order.number}</span>
        </>
      }
      act={act}
      filled={filled}
    >
      <div className="row__crossing">
        <CrossingLine order={order} days={days} />
        <div>
          {chance === null ? (
            <Pill tone={tone}>{t(order.late ? 'order.late' : 'order.no_date')}</Pill>
          ) : (
            <Pill tone={tone}>{t('order.in_time', { chance: format.percent(chance) })}</Pill>
          )}
          <p className="muted small">{sentence}</p>
        </div>
      </div>
    </Row>
  );
}

export function OrderRow({
  order,
  section,
  filled,
}: {
  order: OrderSummary;
  section: string;
  filled: boolean;
}) {
  const t = useTranslate();
  const step = mainStep(order);
  const sentence = useOrderSentence(order);
  const mayReceive = useMay('arrival.receive');
  const mayPlan = useMay('case.plan');
  const mayTell = useMay('maker.tell');
  const act = () => {
    if (section === 'toReceive')
      return mayReceive ? { to: `/arrivals?order=${order.id}`, label: t('today.act.receive') } : null;
    if (section === 'declined')
      return mayPlan ? { to: `/cases/${order.case.id}/plan`, label: t('today.act.plan_again') } : null;
    if (section === 'toTell' && order.telling)
      return mayTell ? { to: `/orders/${order.id}?do=told`, label: t('step.order.told') } : null;
    if (section === 'cancelling' || section === 'changing')
      return { to: `/orders/${order.id}`, label: t('today.act.open_order') };
    if (step) return { to: stepPath(order, step), label: t(`step.order.${step}`) };
    // Sent back or disputed: the way on is another plan, or a word with the maker.
    if (section === 'toSubmit' && order.steps.includes('amend'))
      return { to: stepPath(order, 'amend'), label: t('step.order.amend') };
    return section === 'sendFailed' && otherSteps(order).length > 0
      ? { to: `/orders/${order.id}`, label: t('today.act.open_order') }
      : null;
  };
  return (
    <Row
      name={<CaseName of={order.case} />}
      detail={<Moment at={order.stateSince} zone={order.clinic.timeZone} />}
      act={act()}
      filled={filled}
    >
      <LensText lens={order.specification} lengthMm={order.specification.lengthMm} />{' '}
      <span className="muted">
        {order.maker.name} · <span className="mono">{order.number}</span> ·{' '}
        {order.telling?.why ?? order.note ?? sentence}
      </span>
    </Row>
  );
}
