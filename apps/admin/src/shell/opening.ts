import type { CurrentSession } from '@lensferry/contracts';
import { request } from '../providers/request';
import type { LocaleCode } from '../i18n/locale';
import { bringAdmin, type Admin } from './bring-admin';

/** Kept while somebody may be signed in here; without it there is no session to ask for. */
const WAS_HERE = 'lensferry.was-here';
export const noteHere = (): void => localStorage.setItem(WAS_HERE, '1');
export const forgetHere = (): void => localStorage.removeItem(WAS_HERE);

/** What is under way while nothing is drawn yet. */
export interface Opening {
  readonly asking: Promise<CurrentSession>;
  readonly bringing: Promise<Admin>;
}

/** Most likely the session still holds: the admin comes along while that is asked. */
export function beginOpening(locale: LocaleCode): Opening | null {
  if (localStorage.getItem(WAS_HERE) === null) return null;
  const opening = { asking: request<CurrentSession>('GET', '/session'), bringing: bringAdmin(locale) };
  // Both are awaited once the shell is drawn; until then a failure is nobody's.
  for (const one of Object.values(opening)) one.catch(() => undefined);
  return opening;
}
