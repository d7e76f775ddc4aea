import { wilsonInterval } from '@lensferry/calculation';

/** The 95 % limits of a share; null when there is nothing to share. */
export function limitsOf(count: number, of: number): { low: number; high: number } | null {
  return of === 0 ? null : wilsonInterval(count, of);
}
