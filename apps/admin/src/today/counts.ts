import type { Role } from '@lensferry/domain';
import type { Today } from '@lensferry/contracts';
import { filledSections } from './sections';

/** How much waits behind each place of the menu. */
export function countsOf(today: Today, role: Role): Record<string, number> {
  return {
    today: rowsOf(today, role),
    orders: today.atRisk.length + today.sendFailed.length + today.declined.length,
    arrivals: today.toReceive.length,
    shelf: today.quarantined.length + today.expiring.length,
    exchanges: today.exchanges.length,
    returns: today.returns.length + today.toReturn.length,
  };
}

/** How many rows a role's page of today has. */
function rowsOf(today: Today, role: Role): number {
  return filledSections(today, role).reduce((sum, name) => sum + today[name].length, 0);
}
