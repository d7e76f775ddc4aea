import { useTranslate } from 'react-admin';
import { eyeInCapitals } from '@lensferry/domain';
import type { OrderDetail } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';
import { LensText } from '../shared/parts/LensText';
import { Moment, When } from '../shared/parts/When';
import { OrderStatePill } from './OrderStatePill';

/** The order in facts: what, for when, for how much, and each date on its way. */
export function OrderFacts({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  const format = useFormat();
  const zone = order.clinic.timeZone;
  const { specification: spec } = order;
  const moments = (['openedAt', 'sentAt', 'acknowledgedAt', 'shippedAt', 'arrivedAt'] as const).filter(
    (name) => order[name] !== null,
  );
  const dates = (['needBy', 'firstPromisedOn', 'promisedOn', 'expectedOn'] as const).filter(
    (name) => order[name] !== null,
  );
  return (
    <dl className="facts card card--padded">
      <dt>{t('order.stands_now')}</dt>
      <dd>
        <OrderStatePill order={order} />
      </dd>
      <dt>{t('spec.eye')}</dt>
      <dd className="strong">{t(`eye.capitals.${eyeInCapitals[spec.eye]}`)}</dd>
      <dt>{t('plan.lens')}</dt>
      <dd>
        <LensText lens={spec} lengthMm={spec.lengthMm} />
      </dd>
      {(order.companionOf ?? order.companion) && (
        <>
          <dt>{t(order.companionOf ? 'order.companion_of' : 'order.companion')}</dt>
          <dd>
            <a className="mono" href={`/orders/${(order.companionOf ?? order.companion)?.id}`}>
              {(order.companionOf ?? order.companion)?.number}
            </a>
            {order.companion && <> · {format.mm(order.companion.lengthMm)}</>}
          </dd>
        </>
      )}
      <dt>{t('spec.target')}</dt>
      <dd>
        <LensText lens={spec.target} />
      </dd>
      <dt>{t('plan.maker')}</dt>
      <dd>
        {order.maker.name}, {order.designName} ({t('spec.design_version', { version: spec.designVersion })})
      </dd>
      <dt>{t('spec.case_code')}</dt>
      <dd className="mono">{spec.caseCode}</dd>
      {spec.replacesSerial && (
        <>
          <dt>{t('spec.replaces')}</dt>
          <dd className="mono">{spec.replacesSerial}</dd>
        </>
      )}
      <dt>{t('order.price')}</dt>
      <dd>{format.money(order.price, order.currency)}</dd>
      <dt>{t('order.quoted')}</dt>
      <dd>{t('plan.working_days', { smart_count: order.quotedWorkingDays })}</dd>
      {dates.map((name) => (
        <Fact key={name} name={t(`order.date.${name}`)}>
          <When date={order[name] ?? ''} zone={zone} />
        </Fact>
      ))}
      {moments.map((name) => (
        <Fact key={name} name={t(`order.date.${name}`)}>
          <Moment at={order[name] ?? ''} zone={zone} />
        </Fact>
      ))}
      {order.tracking && (
        <Fact name={t('order.tracking')}>
          <span className="mono">{order.tracking}</span>
        </Fact>
      )}
    </dl>
  );
}

function Fact({ name, children }: { name: string; children: React.ReactNode }) {
  return (
    <>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </>
  );
}
