import { useListContext, useTranslate } from 'react-admin';
import type { z } from 'zod';
import type { AuditRow } from '@lensferry/contracts';
import { useMay, useSession } from '../providers/session';
import { Empty } from '../shared/parts/Answer';
import { FactLine } from '../shared/parts/FactLine';
import { Page } from '../shared/parts/Page';
import { Moment } from '../shared/parts/When';
import { ListFrame } from '../shared/parts/ListFrame';
import { TableWrap } from '../shared/parts/TableWrap';

type Row = z.infer<typeof AuditRow> & { id: string };

/** Everything that was done, by whom and why, each entry chained to the one before by its hash. */
export function AuditPage() {
  const t = useTranslate();
  const mayRead = useMay('audit.read');
  if (!mayRead)
    return (
      <Page title={t('place.audit')}>
        <Empty title={t('common.forbidden')} />
      </Page>
    );
  return (
    <ListFrame
      asked={{ resource: 'audit', perPage: 50 }}
      title={t('place.audit')}
      lead={t('audit.lead')}
      empty={t('audit.none')}
      filters={{ search: t('audit.search') }}
    >
      <Rows />
    </ListFrame>
  );
}

function Rows() {
  const t = useTranslate();
  const { clinics } = useSession();
  const { data = [] } = useListContext<Row>();
  const clinicName = (id: string) => clinics.find((clinic) => clinic.id === id)?.name ?? '';
  return (
    <TableWrap label={t('list.table', { name: t('place.audit') })}>
      <table className="table table--stack">
        <thead>
          <tr>
            <th>{t('audit.when')}</th>
            <th>{t('audit.who')}</th>
            <th>{t('audit.what')}</th>
            <th>{t('audit.facts')}</th>
            <th>{t('audit.hash')}</th>
          </tr>
        </thead>
        <tbody>
          {data.map((row) => (
            <tr key={row.id}>
              <th scope="row">
                <Moment at={row.at} zone={clinics[0]?.timeZone ?? 'UTC'} />
                <p className="muted small">
                  {clinicName(row.clinicId)} <span className="mono">{row.seq}</span>
                </p>
              </th>
              <td>
                {row.actorName}
                <p className="muted small">{t(`role.${row.actorKind}`, { _: row.actorKind })}</p>
              </td>
              <td>
                {t(`action.${row.action}`, { _: row.action })}
                <p className="small steps">
                  {row.caseId && <a href={`/cases/${row.caseId}`}>{t('case.one')}</a>}
                  {row.orderId && <a href={`/orders/${row.orderId}`}>{t('order.one')}</a>}
                </p>
              </td>
              <td className="small audit__facts">
                {row.why && <p>{t('common.because', { why: row.why })}</p>}
                <FactLine facts={row.facts} />
              </td>
              <td className="mono small" title={row.hash}>
                {row.hash.slice(0, 10)}…
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableWrap>
  );
}
