import { createContext, useContext } from 'react';
import { may, type Permission, type Role } from '@lensferry/domain';
import type { CurrentSession } from '@lensferry/contracts';

const SessionContext = createContext<CurrentSession | null>(null);
export const SessionProvider = SessionContext.Provider;

/** Who is signed in. */
export function useSession(): CurrentSession {
  const session = useContext(SessionContext);
  if (session === null) throw new Error('No session here.');
  return session;
}

export function useRole(): Role {
  return useSession().person.role;
}

/** Whether the person who is signed in may do a thing, by the domain's table. */
export function useMay(permission: Permission): boolean {
  return may(useRole(), permission);
}
