import type { Permission } from '@lensferry/domain';

export interface Place {
  name: string;
  path: string;
  permission?: Permission;
}

/** The places of the admin in the order of the menu. */
export const places: readonly Place[] = [
  { name: 'today', path: '/' },
  { name: 'cases', path: '/cases' },
  { name: 'orders', path: '/orders' },
  { name: 'arrivals', path: '/arrivals', permission: 'arrival.receive' },
  { name: 'shelf', path: '/lenses' },
  { name: 'exchanges', path: '/exchanges' },
  { name: 'returns', path: '/returns' },
  { name: 'ledger', path: '/ledger', permission: 'ledger.read' },
  { name: 'makers', path: '/makers' },
  { name: 'outcomes', path: '/outcomes' },
  { name: 'people', path: '/people' },
  { name: 'audit', path: '/audit', permission: 'audit.read' },
];
