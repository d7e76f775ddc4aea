import type { Today } from '@lensferry/contracts';

/** How much waits behind each place of the menu: the API's own counts where it gives them, else what is listed. */
export function countsOf(today: Today): Record<string, number> {
  const listed = {
    orders: today.atRisk.length + today.sendFailed.length + today.declined.length,
    arrivals: today.toReceive.length,
    shelf: today.quarantined.length + today.expiring.length,
    exchanges: today.exchanges.length,
    returns: today.returns.length + today.toReturn.length,
  };
  return { ...listed, today: rowsOf(today) };
}

/** How many rows the page of today has. */
export function rowsOf(today: Today): number {
  return Object.values(today).reduce<number>(
    (sum, value) => sum + (Array.isArray(value) ? value.length : 0),
    0,
  );
}
