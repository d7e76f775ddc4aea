import { useListContext, useTranslate } from 'react-admin';
import { useState } from 'react';
import { ReasonForPerson, type PersonSummary } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { TextField } from '../shared/forms/fields';
import { StepDialog } from '../shared/forms/StepDialog';
import { Pill } from '../shared/parts/Pill';
import { ListFrame } from '../shared/parts/ListFrame';
import { TableWrap } from '../shared/parts/TableWrap';
import { ClinicsPart } from './ClinicsPart';
import { InvitePart } from './InvitePart';

/** Who works here, in which role and at which clinics. */
export function PeoplePage() {
  const t = useTranslate();
  const manages = useMay('people.manage');
  return (
    <>
      <ListFrame
        resource="people"
        title={t('place.people')}
        lead={t('people.lead')}
        empty={t('people.none')}
        perPage={200}
      >
        <Rows />
      </ListFrame>
      {manages && <InvitePart />}
      {manages && <ClinicsPart />}
    </>
  );
}

function Rows() {
  const t = useTranslate();
  const { data = [] } = useListContext<PersonSummary>();
  const manages = useMay('people.manage');
  const [leaving, setLeaving] = useState<PersonSummary | null>(null);
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
                  {person.secondFactor && <Pill tone="moss">{t('people.factor')}</Pill>}{' '}
                  {person.active && (
                    <button type="button" className="button" onClick={() => setLeaving(person)}>
                      {t('people.deactivate')}
                    </button>
                  )}
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
      {leaving && (
        <StepDialog<PersonSummary>
          title={t('people.deactivate')}
          consequence={t('people.deactivate_what', { name: leaving.name })}
          schema={ReasonForPerson}
          path={`/people/${leaving.id}/deactivate`}
          defaults={{}}
          done="people.deactivated"
          grave
          onClose={() => setLeaving(null)}
        >
          <TextField name="why" label={t('people.why')} long />
        </StepDialog>
      )}
    </TableWrap>
  );
}
