import { useListContext, useTranslate } from 'react-admin';
import { roles } from '@lensferry/domain';
import type { PersonSummary } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { Pill } from '../shared/parts/Pill';
import { ListFrame } from '../shared/parts/ListFrame';
import { TableWrap } from '../shared/parts/TableWrap';
import { AccountActions } from './AccountActions';
import { ClinicsPart } from './ClinicsPart';
import { InvitePart } from './InvitePart';

/** Who works here, in which role and at which clinics. */
export function PeoplePage() {
  const t = useTranslate();
  const manages = useMay('people.manage');
  return (
    <>
      <ListFrame
        asked={{ resource: 'people', sort: 'code' }}
        title={t('place.people')}
        lead={t('people.lead')}
        empty={t('people.none')}
        filters={{
          search: t('people.search'),
          states: roles.map((role) => ({ value: role, label: t(`role.${role}`) })),
          sorts: ['code', 'recent'],
          sortLabels: { code: t('people.by_name'), recent: t('people.newest') },
        }}
      >
        <Rows />
      </ListFrame>
      <p>
        <a href="/limits">{t('limit.where')}</a>
      </p>
      {manages && <InvitePart />}
      {manages && <ClinicsPart />}
    </>
  );
}

function Rows() {
  const t = useTranslate();
  const { data = [] } = useListContext<PersonSummary>();
  const manages = useMay('people.manage');
  return (
    <TableWrap label={t('list.table', { name: t('place.people') })}>
      <table className="table table--stack">
        <thead>
          <tr>
            <th>{t('people.name')}</th>
            <th>{t('people.role')}</th>
            <th>{t('frame.clinics')}</th>
            <th>{t('people.email')}</th>
            {manages && <th>{t('people.account')}</th>}
          </tr>
        </thead>
        <tbody>
          {data.map((person) => (
            <tr key={person.id}>
              <th scope="row">
                {person.name} {!person.active && <Pill tone="plain">{t('people.inactive')}</Pill>}
              </th>
              <td>{t(`role.${person.role}`)}</td>
              <td>{person.clinics.map(({ name }) => name).join(', ')}</td>
              <td className="mono">{person.email}</td>
              {manages && (
                <td>
                  <AccountActions person={person} />
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </TableWrap>
  );
}
