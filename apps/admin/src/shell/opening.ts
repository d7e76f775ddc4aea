import type { CurrentSession } from '@lensferry/contracts';
import { chosenLocale } from '../i18n/locale';
import { setClock } from '../providers/clock';
import type { Prepared } from '../providers/prepare';
import { ApiProblem, request } from '../providers/request';
import { bringAdmin, type Admin } from './bring-admin';

/** Kept while somebody may be signed in here; without it there is no session to ask for. */
const WAS_HERE = 'lensferry.was-here';
export const forgetHere = (): void => localStorage.removeItem(WAS_HERE);

/** What is shown: the admin, the page on which one signs in, or that this program is an old one. */
export type Opened =
  | { session: CurrentSession; App: Admin['App']; prepared: Prepared }
  | { ended: boolean; unreachable: boolean }
  | 'outdated';

/** Everything is there before the admin is shown, so that it is shown once and whole. Never fails. */
export async function enter(session: CurrentSession, bringing: Promise<Admin>): Promise<Opened> {
  localStorage.setItem(WAS_HERE, '1');
  setClock(session.now);
  try {
    const { App, prepare } = await bringing;
    return { session, App, prepared: await prepare(session) };
  } catch (error) {
    console.error(error);
    return 'outdated';
  }
}

/** Most likely the session still holds: the admin comes along while that is asked. */
async function open(): Promise<Opened> {
  if (localStorage.getItem(WAS_HERE) === null) return { ended: false, unreachable: false };
  const asking = request<CurrentSession>('GET', '/session');
  const bringing = bringAdmin(chosenLocale());
  // Awaited once there is a session; until then a failure is nobody's.
  bringing.catch(() => undefined);
  try {
    return await enter(await asking, bringing);
  } catch (error) {
    return { ended: false, unreachable: !(error instanceof ApiProblem) };
  }
}

/** Begun before anything else of this program is made: nothing is drawn until it has settled. */
export const opening: Promise<Opened> = open();
