import { useTranslate } from 'react-admin';
import type { CaseDetail } from '@lensferry/contracts';
import { otherSteps, stepPath } from '../orders/order-steps';
import { SpecificationText } from '../orders/SpecificationText';
import { actionPath, nextStepOf, otherActions, presentOrder, sayNext } from './next-step';

/** The step that moves the case, for the person who looks at it; the others smaller under it. */
export function NextStepCard({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const next = nextStepOf(of);
  const order = presentOrder(of);
  const { name, why, to } = sayNext(of, next);
  const others = otherActions(of, next);
  const by = of.waiting.byName ?? (of.waiting.by ? t(`role.${of.waiting.by}`) : '');
  const missing = of.missing.map((kind) => t(`kind.${kind}`)).join(', ');
  return (
    <section className="card card--padded next" aria-labelledby="next-step">
      <h2 id="next-step">{t(name)}</h2>
      <p className="muted">{t(why, { by, missing, eye: t(`eye.${of.eye}`) })}</p>
      {order && <SpecificationText order={order} />}
      {to && (
        <a className="button button--filled button--wide" href={to}>
          {t(name)}
        </a>
      )}
      {order &&
        otherSteps(order)
          .filter((step) => step !== 'amend')
          .map((step) => (
            <a key={step} className="button button--wide" href={stepPath(order, step)}>
              {t(`step.order.${step}`)}
            </a>
          ))}
      {order && (
        <a className="button button--text button--wide" href={`/orders/${order.id}`}>
          {t('next.open_order', { number: order.number })}
        </a>
      )}
      {others.length > 0 && (
        <div className="next__others">
          {others.map((action) => (
            <a key={action} href={actionPath(of, action)}>
              {t(`step.case.${action}`)}
            </a>
          ))}
        </div>
      )}
    </section>
  );
}
