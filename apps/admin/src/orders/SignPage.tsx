import { useGetOne, useTranslate } from 'react-admin';
import { useParams } from 'react-router-dom';
import type { CaseDetail, OrderDetail } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { Answer, Empty } from '../shared/parts/Answer';
import { Cautions } from '../shared/parts/Cautions';
import { CaseName } from '../shared/parts/CaseName';
import { Page } from '../shared/parts/Page';
import { EyePictures } from '../cases/EyePictures';
import { numbersOf } from '../cases/eye-numbers';
import { PlanSummary } from '../plan/PlanSummary';
import { MeasuredTable } from '../plan/MeasuredTable';
import { Differences } from './Differences';
import { SignForm } from './SignForm';
import '../cases/case.css';
import './order.css';

export const asks = { record: 'orders' } satisfies Asks;

/** The surgeon reads what was measured, computed and chosen, sees what changed, and signs. */
export function SignPage() {
  const t = useTranslate();
  const { id = '' } = useParams();
  const query = useGetOne<OrderDetail>('orders', { id });
  return (
    <Page
      title={t('sign.title')}
      lead={
        query.data && (
          <>
            <CaseName of={query.data.case} /> · <span className="mono">{query.data.number}</span> ·{' '}
            {query.data.clinic.name}
          </>
        )
      }
      actions={<a href={`/orders/${id}`}>{t('next.open_order', { number: query.data?.number ?? '…' })}</a>}
    >
      <Answer query={query}>{(order) => <Sign order={order} />}</Answer>
      {/* Not while it loads: it would move. */}
      {query.data && <Cautions />}
    </Page>
  );
}

function Sign({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  const query = useGetOne<CaseDetail>('cases', { id: order.case.id });
  if (!order.steps.includes('sign') && !order.steps.includes('sign-change'))
    return (
      <Empty title={t('sign.not_now')}>
        <p>{t('order.stands_at', { state: t(`order.state.${order.state}`) })}</p>
        <a className="button" href={`/cases/${order.case.id}`}>
          {t('common.back_to_case')}
        </a>
      </Empty>
    );
  return (
    <Answer query={query}>
      {(of) => {
        const input = numbersOf(of);
        const plan = of.plans.at(-1);
        return (
          <div className="sign">
            <div>
              <Differences
                title={t('order.change.differs')}
                differences={order.change?.differences ?? []}
                tone="amber"
              />
              <Differences
                title={t('order.changed_since_submission')}
                differences={order.differencesSinceSubmission}
                tone="amber"
              />
              <Differences
                title={t('order.differs_from_replaced')}
                differences={order.differencesFromReplaced}
              />
              {input && <EyePictures of={of} input={input} />}
              {plan && <PlanSummary plan={plan} />}
              {input && <MeasuredTable of={of} input={input} />}
            </div>
            <SignForm key={order.change?.specificationHash ?? order.specificationHash} order={order} />
          </div>
        );
      }}
    </Answer>
  );
}
