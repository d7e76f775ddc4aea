import type { AuthProvider } from 'react-admin';
import { may, type Permission } from '@lensferry/domain';
import type { CurrentSession } from '@lensferry/contracts';
import { ApiProblem, request } from './request';

/** react-admin's view of the session that the shell has already opened. */
export function authProviderFor(session: CurrentSession, leave: () => void): AuthProvider {
  return {
    login: () => Promise.reject(new Error('Signing in happens in the shell.')),
    async logout() {
      await request('DELETE', '/session').catch(() => undefined);
      leave();
      return false;
    },
    checkAuth: () => Promise.resolve(),
    checkError: (error: unknown) =>
      error instanceof ApiProblem && error.status === 401
        ? Promise.reject(new Error('The session has ended.'))
        : Promise.resolve(),
    getIdentity: () =>
      Promise.resolve({ id: session.person.id, fullName: session.person.name, role: session.person.role }),
    getPermissions: () => Promise.resolve(session.person.role),
    canAccess: ({ resource, action }) =>
      Promise.resolve(may(session.person.role, `${resource}.${action}` as Permission)),
  };
}
