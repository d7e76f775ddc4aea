import { useGetOne, useTranslate } from 'react-admin';
import { useParams } from 'react-router-dom';
import type { CaseDetail, MakerSummary } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { useRead } from '../providers/use-read';
import { Answer, Empty } from '../shared/parts/Answer';
import { Cautions } from '../shared/parts/Cautions';
import { Page } from '../shared/parts/Page';
import { numbersOf } from '../cases/eye-numbers';
import { Planner } from './Planner';
import '../cases/case.css';
import './plan.css';

export const asks = { record: 'cases' } satisfies Asks;

/** The plan of a case: what-if here, the record by the server. */
export function PlanPage() {
  const t = useTranslate();
  const { id = '' } = useParams();
  const query = useGetOne<CaseDetail>('cases', { id });
  const makers = useRead<{ items: MakerSummary[] }>('/makers');
  const of = query.data;
  return (
    <Page
      title={of ? t('plan.title', { name: `${of.codeName} · ${t(`eye.${of.eye}`)}` }) : t('step.case.plan')}
      lead={t('plan.lead')}
      actions={<a href={`/cases/${id}`}>{t('common.back_to_case')}</a>}
    >
      <Answer query={query}>
        {(loaded) => {
          const input = numbersOf(loaded);
          if (!loaded.actions.includes('plan'))
            return (
              <Empty title={t('plan.not_now')}>
                {t(`next.wait.${loaded.waiting.for}`, { by: loaded.waiting.byName ?? '', missing: '' })}
              </Empty>
            );
          if (input === null)
            return (
              <Empty title={t('plan.measure_first')}>
                <p>
                  {t('case.still_missing', {
                    missing: loaded.missing.map((kind) => t(`kind.${kind}`)).join(', '),
                  })}
                </p>
                <a className="button button--filled" href={`/cases/${loaded.id}/measure`}>
                  {t('step.case.measure')}
                </a>
              </Empty>
            );
          return <Answer query={makers}>{({ items }) => <Planner of={loaded} makers={items} />}</Answer>;
        }}
      </Answer>
      {/* Not while it loads: it would move. */}
      {of && makers.data && <Cautions />}
    </Page>
  );
}
