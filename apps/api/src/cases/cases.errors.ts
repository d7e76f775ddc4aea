import { DomainError } from '@lensferry/domain';

export const caseMissing = () =>
  new DomainError('missing', 'case.missing', 'There is no such case at your clinics.');

export const caseMoved = (version: number) =>
  new DomainError(
    'conflict',
    'case.moved',
    'Somebody changed this case since you opened it; reload to see how it stands now.',
    {
      version,
    },
  );
