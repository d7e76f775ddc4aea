import type { AddMaker, NewSecret, ReachMaker } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { randomBytes } from 'node:crypto';
import { v7 as uuid } from 'uuid';
import type { Work } from '../platform/work.js';
import { agreed, changeMaker, loadMaker, requireZone } from './edit-maker.js';
import { makerSecretPurpose } from './makers.store.js';

/**
 * Adds a maker. It has no design yet, and for messages no secret: both are made next.
 * @returns its identifier.
 * @throws DomainError `maker.taken`, `maker.time-zone`, `maker.insecure`.
 */
export async function addMaker(work: Work, input: AddMaker): Promise<string> {
  work.need('maker.edit');
  requireZone(work.now, input.timeZone);
  requireSecure(input.endpoint);
  const taken = await work.tx.maker.findFirst({
    where: { OR: [{ code: input.code }, { name: { equals: input.name, mode: 'insensitive' } }] },
  });
  if (taken !== null) {
    const pointer = taken.code === input.code ? '/code' : '/name';
    const message = `${taken.name} (${taken.code}) is there already; choose another ${pointer.slice(1)}.`;
    throw new DomainError('conflict', 'maker.taken', message, { code: taken.code }, [{ pointer, message }]);
  }
  const id = uuid();
  await work.tx.maker.create({ data: { id, ...agreed(input) } });
  for (const clinicId of work.actor.clinicIds)
    work.record({
      clinicId,
      action: 'maker.add',
      facts: { maker: input.name, code: input.code, channel: input.channel },
    });
  return id;
}

/** Changes how a maker is reached. What waits in the queue goes the new way at its next attempt. */
export async function reachMaker(work: Work, makerId: string, input: ReachMaker): Promise<void> {
  work.need('maker.edit');
  const { version, ...after } = input;
  requireSecure(input.endpoint);
  await changeMaker(work, await loadMaker(work, makerId), version, after);
}

/**
 * Makes a new signing secret for a maker's messages, both ways. The answer is the only time it is told: what is kept
 * is sealed. The old one stops at once, so messages are refused until the maker has taken the new one over.
 */
export async function renewSecret(work: Work, makerId: string, version: number): Promise<NewSecret> {
  work.need('maker.edit');
  const maker = await loadMaker(work, makerId);
  const secret = `whsec_${randomBytes(24).toString('base64')}`;
  const { count } = await work.tx.maker.updateMany({
    where: { id: makerId, version },
    data: { secretSealed: work.box.seal(secret, makerSecretPurpose(makerId)), version: version + 1 },
  });
  if (count === 0)
    throw new DomainError(
      'conflict',
      'maker.moved',
      'Somebody changed this maker since you opened it; reload to go on.',
      { version: maker.version },
    );
  for (const clinicId of work.actor.clinicIds)
    work.record({
      clinicId,
      action: 'maker.secret',
      facts: { maker: maker.name, renewed: maker.secretSealed !== null },
    });
  return { id: makerId, makerCode: maker.code, secret };
}

const ownMachine = ['localhost', '127.0.0.1', '[::1]'];

/** Orders name lenses and cases: over a network they go encrypted. */
function requireSecure(endpoint: string | null): void {
  if (endpoint === null) return;
  const { protocol, hostname } = new URL(endpoint);
  if (protocol === 'https:' || ownMachine.includes(hostname)) return;
  const message = 'Messages over a network go by https://; write the address so.';
  throw new DomainError('invalid', 'maker.insecure', message, {}, [{ pointer: '/endpoint', message }]);
}
