import { useState } from 'react';
import { useTranslate } from 'react-admin';
import { roles } from '@lensferry/domain';
import {
  ChangeMembership,
  ReasonForPerson,
  type MadeInvitation,
  type PersonSummary,
  type SessionList,
} from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { SelectField, TextField } from '../shared/forms/fields';
import { StepDialog } from '../shared/forms/StepDialog';
import { Pill } from '../shared/parts/Pill';
import { Moment } from '../shared/parts/When';
import { deviceInWords } from './device';

const actions = [
  'end-sessions',
  'renew-password',
  'reset-second-factor',
  'place',
  'deactivate',
  'reactivate',
] as const;
type Action = (typeof actions)[number];

/** Which of them an account asks for as it stands. */
const isOpen = (person: PersonSummary, action: Action): boolean => {
  if (action === 'reactivate') return !person.active;
  return person.active && (action !== 'reset-second-factor' || person.secondFactor);
};

/** What an administrator does to somebody's account, each with what follows from it and a reason on record. */
export function AccountActions({ person }: { person: PersonSummary }) {
  const t = useTranslate();
  const [open, setOpen] = useState<Action | null>(null);
  const [link, setLink] = useState<string | null>(null);
  return (
    <>
      {person.secondFactor && <Pill tone="moss">{t('people.factor')}</Pill>}
      <details className="account-actions">
        <summary>{t('people.manage')}</summary>
        {actions
          .filter((action) => isOpen(person, action))
          .map((action) => (
            <button
              key={action}
              type="button"
              className="button button--text"
              onClick={() => setOpen(action)}
            >
              {t(`people.do.${action}`)}
            </button>
          ))}
      </details>
      {link && (
        <p className="note note--amber" role="status">
          {t('people.link')} <span className="mono wraps">{link}</span>
        </p>
      )}
      {open && (
        <StepDialog<PersonSummary & Partial<MadeInvitation>>
          title={t(`people.do.${open}`)}
          consequence={t(`people.what.${open}`, { name: person.name })}
          schema={open === 'place' ? ChangeMembership : ReasonForPerson}
          path={`/people/${person.id}/${open}`}
          defaults={
            open === 'place'
              ? { role: person.role, clinicIds: person.clinics.map(({ id }) => id), why: '' }
              : { why: '' }
          }
          done={`people.did.${open}`}
          grave={open === 'deactivate' || open === 'reset-second-factor'}
          onDone={(answer) => answer.path && setLink(`${location.origin}${answer.path}`)}
          onClose={() => setOpen(null)}
        >
          {open === 'end-sessions' && <Sessions personId={person.id} />}
          {open === 'place' && (
            <SelectField
              name="role"
              label={t('people.role')}
              placeholder={t('people.role')}
              choices={roles.map((role) => ({ value: role, label: t(`role.${role}`) }))}
            />
          )}
          <TextField name="why" label={t('people.why')} long />
        </StepDialog>
      )}
    </>
  );
}

/** Where somebody is signed in now. */
function Sessions({ personId }: { personId: string }) {
  const t = useTranslate();
  const query = useRead<SessionList>(`/people/${personId}/sessions`);
  const sessions = query.data?.items ?? [];
  if (query.data && sessions.length === 0) return <p className="muted">{t('people.no_sessions')}</p>;
  return (
    <ul>
      {sessions.map(({ id, device, lastSeenAt }) => (
        <li key={id}>
          {deviceInWords(device) || t('account.unknown_device')}, <Moment at={lastSeenAt} />
        </li>
      ))}
    </ul>
  );
}
