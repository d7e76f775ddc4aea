import { DomainError } from '@lensferry/domain';

export const returnMissing = () =>
  new DomainError('missing', 'return.missing', 'There is no such return at your clinics.');
export const returnMoved = (row: { state: string; version: number }) =>
  new DomainError(
    'conflict',
    'return.moved',
    `Somebody moved this return since you opened it: it is now ${row.state.replaceAll('_', ' ')}. Reload to go on.`,
    {
      state: row.state,
      version: row.version,
    },
  );
