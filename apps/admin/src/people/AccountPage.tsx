import { useTranslate } from 'react-admin';
import { useQueryClient } from '@tanstack/react-query';
import { ChangePassword, type SessionList } from '@lensferry/contracts';
import { request } from '../providers/request';
import { useSession } from '../providers/session';
import { useRead } from '../providers/use-read';
import { Answer } from '../shared/parts/Answer';
import { Page, Section } from '../shared/parts/Page';
import { Pill } from '../shared/parts/Pill';
import { deviceInWords } from './device';
import { Secret } from '../shared/forms/Secret';
import { PlainForm } from './PlainForm';
import { SecondFactor } from './SecondFactor';

/** One's own account: the second factor, the password, and where one is signed in. */
export function AccountPage() {
  const t = useTranslate();
  const { person, secondFactor } = useSession();
  return (
    <Page title={t('account.title')} lead={t(`account.lead.${secondFactor}`)}>
      <Section title={t('account.factor')}>
        <SecondFactor />
      </Section>
      <Section title={t('account.password')} note={t('account.password_note')}>
        <PlainForm
          label={t('account.change')}
          done={t('account.changed')}
          act={async (form) => {
            const body = { password: form.get('password'), newPassword: form.get('newPassword') };
            await request('POST', '/account/password', ChangePassword.parse(body));
          }}
        >
          <input type="hidden" name="username" autoComplete="username" value={person.email} readOnly />
          <Secret name="password" label={t('sign.password')} now />
          <Secret name="newPassword" label={t('account.new_password')} />
        </PlainForm>
      </Section>
      {/* Last, because it grows when its answer comes. */}
      <Section title={t('account.sessions')} note={t('account.sessions_note')}>
        <Sessions />
      </Section>
    </Page>
  );
}

function Sessions() {
  const t = useTranslate();
  const queries = useQueryClient();
  const query = useRead<SessionList>('/account/sessions');
  const { idleMinutes } = useSession();
  const clock = (instant: string): string =>
    new Date(instant).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
  const end = async (id: string) => {
    await request('DELETE', `/account/sessions/${id}`);
    await queries.invalidateQueries({ queryKey: ['read', '/account/sessions'] });
  };
  return (
    <Answer query={query}>
      {({ items }) => (
        <ul className="plain-list form">
          {items.map((one) => (
            <li key={one.id} className="card card--padded">
              <p className="strong wraps">
                {deviceInWords(one.device) || t('account.unknown_device')}{' '}
                {one.current && <Pill tone="moss">{t('account.this_one')}</Pill>}
              </p>
              <p className="muted small">
                {t('account.used', { since: clock(one.startedAt), last: clock(one.lastSeenAt) })}{' '}
                {t('account.ends', { minutes: idleMinutes, at: clock(one.expiresAt) })}
              </p>
              {!one.current && (
                <button type="button" className="button" onClick={() => void end(one.id)}>
                  {t('account.end')}
                </button>
              )}
            </li>
          ))}
        </ul>
      )}
    </Answer>
  );
}
