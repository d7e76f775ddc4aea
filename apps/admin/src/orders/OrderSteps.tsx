import { useTranslate } from 'react-admin';
import { orderLifecycle } from '@lensferry/domain';
import type { OrderDetail } from '@lensferry/contracts';
import { mainStep, otherSteps, stepPath, whyNext } from './order-steps';
import { SpecificationText } from './SpecificationText';

/** What can be done with the order now, by the person who looks at it; else who is waited for. */
export function OrderSteps({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  const main = mainStep(order);
  const others = otherSteps(order);
  const by = [
    ...new Set(
      orderLifecycle.steps.filter(({ from }) => from.includes(order.state)).flatMap((step) => step.by),
    ),
  ];
  return (
    <aside className="card card--padded next order__side" aria-labelledby="order-next">
      <h2 id="order-next">{main ? t(`step.order.${main}`) : t('next.nothing')}</h2>
      <p className="muted">
        {main
          ? t(whyNext(order, main), { by: order.maker.name })
          : by.length === 0
            ? t('next.order_ended')
            : t('next.others_turn', { by: by.map((actor) => t(`role.${actor}`)).join(', ') })}
      </p>
      <SpecificationText order={order} />
      {main && (
        <a className="button button--filled button--wide" href={stepPath(order, main)}>
          {t(`step.order.${main}`)}
        </a>
      )}
      {others.map((step) => (
        <a
          key={step}
          className={
            step === 'cancel' || step === 'decline'
              ? 'button button--grave button--wide'
              : 'button button--wide'
          }
          href={stepPath(order, step)}
        >
          {t(`step.order.${step}`)}
        </a>
      ))}
      {order.maker.channel === 'by_hand' && <p className="muted small">{t('order.by_hand')}</p>}
      {order.maker.channel === 'email' && <p className="muted small">{t('order.by_email')}</p>}
      <button type="button" className="button button--text button--wide" onClick={() => window.print()}>
        {t('common.print')}
      </button>
    </aside>
  );
}
