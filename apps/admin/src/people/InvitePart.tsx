import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useTranslate } from 'react-admin';
import { roles } from '@lensferry/domain';
import { InvitePerson, type InvitationSummary, type MadeInvitation } from '@lensferry/contracts';
import { request } from '../providers/request';
import { useSession } from '../providers/session';
import { useRead } from '../providers/use-read';
import { Section } from '../shared/parts/Page';
import { PlainForm } from './PlainForm';

/** An administrator invites somebody: the link is shown this once, to be handed over in person or by one's own mail. */
export function InvitePart() {
  const t = useTranslate();
  const queries = useQueryClient();
  const { clinics } = useSession();
  const [link, setLink] = useState<string | null>(null);
  const open = useRead<{ items: InvitationSummary[] }>('/invitations');
  const again = () => queries.invalidateQueries({ queryKey: ['read', '/invitations'] });
  const withdraw = async (id: string) => {
    await request('DELETE', `/invitations/${id}`);
    await again();
  };
  return (
    <Section title={t('people.invite')} note={t('people.invite_note')}>
      {link && (
        <p className="note note--amber" role="status">
          {t('people.link')} <span className="mono wraps">{link}</span>
        </p>
      )}
      <PlainForm
        label={t('people.invite')}
        act={async (form) => {
          const { name, email, role } = Object.fromEntries(form);
          const body = InvitePerson.parse({ name, email, role, clinicIds: form.getAll('clinicIds') });
          const { path } = await request<MadeInvitation>('POST', '/invitations', body);
          setLink(`${location.origin}${path}`);
          await again();
        }}
      >
        <Text name="name" label={t('people.name')} />
        <Text name="email" label={t('people.email')} type="email" />
        <label className="field">
          <span className="field__label">{t('people.role')}</span>
          <span className="field__box">
            <select className="field__input" name="role" defaultValue="coordinator">
              {roles.map((role) => (
                <option key={role} value={role}>
                  {t(`role.${role}`)}
                </option>
              ))}
            </select>
          </span>
        </label>
        <fieldset className="form">
          <legend>{t('frame.clinics')}</legend>
          {clinics.map(({ id, name }) => (
            <label key={id}>
              <input type="checkbox" name="clinicIds" value={id} defaultChecked={clinics.length === 1} />{' '}
              {name}
            </label>
          ))}
        </fieldset>
      </PlainForm>
      <ul>
        {open.data?.items.map(({ id, name, email, role, expiresAt }) => (
          <li key={id}>
            {name}, {email}, {t(`role.${role}`)},{' '}
            {t('people.until', { at: new Date(expiresAt).toLocaleString() })}{' '}
            <button type="button" className="button button--text" onClick={() => void withdraw(id)}>
              {t('people.withdraw')}
            </button>
          </li>
        ))}
      </ul>
    </Section>
  );
}

function Text({ name, label, type = 'text' }: { name: string; label: string; type?: string }) {
  return (
    <label className="field">
      <span className="field__label">{label}</span>
      <span className="field__box">
        <input className="field__input" name={name} type={type} autoComplete="off" required />
      </span>
    </label>
  );
}
