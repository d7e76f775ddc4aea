import type { SetLimit } from '@lensferry/contracts';
import { DomainError, faultOfLimit, limits, type LimitKey } from '@lensferry/domain';
import { requireSigner } from '../orders/sign-order.js';
import { holdSettings, writeSettings, type NetworkSettings } from '../platform/settings-of-network.js';
import type { Work } from '../platform/work.js';
import { noteChange } from './limits.store.js';

/**
 * A surgeon sets one limit of the network by a signature, on the record of each clinic that the surgeon belongs to.
 * Plans, lists and findings go by it from now on; plans on record keep what they were judged by.
 * @throws DomainError `limit.changed-meanwhile`, `limit.same`, `limit.passes`, `person.password`.
 */
export async function setLimit(work: Work, { key, was, value, why, password }: SetLimit): Promise<void> {
  work.need('limit.set');
  const signer = await requireSigner(work, password);
  const settings = await holdSettings(work);
  requireSettable(settings, key, { was, value });
  await writeSettings(work, { [key]: value });
  await noteChange(work, key, {
    ...{ before: settings[key], at: work.now.toISOString(), by: signer.name, why },
  });
  const facts = { limit: key, before: settings[key], after: value, unit: limits[key].unit };
  for (const clinicId of work.actor.clinicIds) work.record({ clinicId, action: 'limit.set', facts, why });
}

function requireSettable(
  settings: NetworkSettings,
  key: LimitKey,
  { was, value }: { was: number; value: number },
): void {
  if (settings[key] !== was)
    throw new DomainError(
      'conflict',
      'limit.changed-meanwhile',
      'Somebody set this limit meanwhile; look at it again.',
      { value: settings[key] },
    );
  const there = (message: string) => [{ pointer: '/value', message }];
  if (value === was) {
    const message = 'It is set to this already; give another value.';
    throw new DomainError('invalid', 'limit.same', message, {}, there(message));
  }
  const fault = faultOfLimit(key, value, settings);
  if (fault === null) return;
  if (!('at' in fault)) {
    const message = 'This limit can’t be set to that value.';
    throw new DomainError('invalid', 'limit.not-possible', message, {}, there(message));
  }
  const message = `It would pass by the limit next to it: set that one first, or give a value that is not ${fault.say} ${fault.at}.`;
  throw new DomainError('invalid', 'limit.passes', message, { at: fault.at }, there(message));
}
