import { useListContext, useTranslate } from 'react-admin';
import { caseStages } from '@lensferry/domain';
import type { CaseSummary } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { useMay } from '../providers/session';
import { CaseName } from '../shared/parts/CaseName';
import { Pill } from '../shared/parts/Pill';
import { When } from '../shared/parts/When';
import { useWaiting } from './waiting';
import { ListFrame } from '../shared/parts/ListFrame';
import { TableWrap } from '../shared/parts/TableWrap';

export const asks = { list: { resource: 'cases' } } satisfies Asks;

/** All cases the person may see, a page at a time. */
export function CaseListPage() {
  const t = useTranslate();
  const mayOpen = useMay('case.open');
  return (
    <ListFrame
      asked={asks.list}
      title={t('place.cases')}
      lead={t('case.list_lead')}
      empty={t('case.list_empty')}
      filters={{
        search: t('case.search'),
        states: caseStages.map((value) => ({ value, label: t(`stage.${value}`) })),
        sorts: ['recent', 'code', 'due'],
      }}
      actions={
        mayOpen && (
          <a className="button button--filled" href="/cases/new">
            {t('case.open')}
          </a>
        )
      }
    >
      <Rows />
    </ListFrame>
  );
}

function Rows() {
  const t = useTranslate();
  const { data = [] } = useListContext<CaseSummary>();
  return (
    <TableWrap label={t('list.table', { name: t('place.cases') })}>
      <table className="table table--stack">
        <thead>
          <tr>
            <th>{t('case.one')}</th>
            <th>{t('case.stage')}</th>
            <th>{t('case.waits_for')}</th>
            <th>{t('case.theatre_date')}</th>
            <th>{t('case.surgeon')}</th>
          </tr>
        </thead>
        <tbody>
          {data.map((of) => (
            <Row key={of.id} of={of} />
          ))}
        </tbody>
      </table>
    </TableWrap>
  );
}

function Row({ of }: { of: CaseSummary }) {
  const t = useTranslate();
  const waiting = useWaiting(of);
  return (
    <tr>
      <th scope="row">
        <CaseName of={of} />
        <p className="muted small">
          <span className="mono">{of.code}</span> · {of.clinic.name}
        </p>
      </th>
      <td>
        <Pill tone={of.stage === 'closed' || of.stage === 'withdrawn' ? 'plain' : 'sea'}>
          {t(`stage.${of.stage}`)}
        </Pill>{' '}
        {of.inExchange && <Pill tone="amber">{t('case.in_exchange')}</Pill>}
      </td>
      <td>{waiting}</td>
      <td data-label={t('case.theatre')}>
        {of.theatreOn ? <When date={of.theatreOn} zone={of.clinic.timeZone} /> : '–'}
      </td>
      <td>{of.surgeon.name}</td>
    </tr>
  );
}
