import { useTranslate } from 'react-admin';
import { Link } from 'react-router-dom';
import type { CaseDetail } from '@lensferry/contracts';
import { otherSteps, stepPath } from '../orders/order-steps';
import { SpecificationText } from '../orders/SpecificationText';
import { actionPath, nextStepOf, presentOrder, type CaseAction } from './next-step';

/** Actions that are no step onward, in the order in which they are offered. */
const aside: readonly CaseAction[] = [
  'measure',
  'plan',
  'schedule',
  'implant',
  'exchange',
  'end-exchange',
  'close',
  'withdraw',
  'identity',
];

/** The step that moves the case, for the person who looks at it; the others smaller under it. */
export function NextStepCard({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const next = nextStepOf(of);
  const order = presentOrder(of);
  const name =
    next.kind === 'order'
      ? `step.order.${next.step}`
      : next.kind === 'case'
        ? `step.case.${next.action}`
        : null;
  const to =
    next.kind === 'order'
      ? stepPath(next.order, next.step)
      : next.kind === 'case'
        ? actionPath(of, next.action)
        : null;
  const why =
    next.kind === 'order'
      ? `next.order.${next.step}`
      : next.kind === 'case'
        ? `next.case.${next.action}`
        : `next.wait.${of.waiting.for}`;
  const others = aside.filter(
    (action) => of.actions.includes(action) && !(next.kind === 'case' && next.action === action),
  );
  const by = of.waiting.byName ?? (of.waiting.by ? t(`role.${of.waiting.by}`) : '');
  return (
    <section className="card card--padded next" aria-labelledby="next-step">
      <h2 id="next-step">{t(name ?? 'next.nothing')}</h2>
      <p className="muted">
        {t(why, {
          by,
          missing: of.missing.map((kind) => t(`kind.${kind}`)).join(', '),
          eye: t(`eye.${of.eye}`),
        })}
      </p>
      {order && <SpecificationText order={order} />}
      {name && to && (
        <Link className="button button--filled button--wide" to={to}>
          {t(name)}
        </Link>
      )}
      {order &&
        otherSteps(order)
          .filter((step) => step !== 'amend')
          .map((step) => (
            <Link key={step} className="button button--wide" to={stepPath(order, step)}>
              {t(`step.order.${step}`)}
            </Link>
          ))}
      {order && (
        <Link className="button button--text button--wide" to={`/orders/${order.id}`}>
          {t('next.open_order', { number: order.number })}
        </Link>
      )}
      {others.length > 0 && (
        <div className="next__others">
          {others.map((action) => (
            <Link key={action} to={actionPath(of, action)}>
              {t(`step.case.${action}`)}
            </Link>
          ))}
        </div>
      )}
    </section>
  );
}
