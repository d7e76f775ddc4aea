import type { ReceiveLens } from '@lensferry/contracts';
import { DomainError, eyes, eyeInCapitals } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { refreshStage } from '../cases/refresh-stage.js';
import { loadOrder, takeStep } from '../orders/orders.store.js';
import { dayIn, toDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { reserveForEye } from '../stock/keep-for-case.js';
import { seenBefore, seenSentence } from './seen-before.queries.js';
import { compare, fieldsToRead, labelWords, readEntry, shortExpiry, type Found } from './read-arrival.js';

/**
 * Takes a lens in against an order. Accepted only when every field read off the pack is what the order says and it
 * has not expired; anything else goes into quarantine with its reason. The comparison is made here, not believed.
 * @throws DomainError `arrival.incomplete`, `arrival.mismatch`, `arrival.expired`, `arrival.short-expiry`, `arrival.seen-before`.
 */
export async function receiveLens(work: Work, orderId: string, input: ReceiveLens): Promise<string> {
  work.need('arrival.receive');
  const order = await loadOrder(work, orderId);
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: order.clinicId } });
  const today = dayIn(clinic.timeZone, work.now);
  const { found, reading } = readEntry(input.label, today);
  const comparison = compare(order, found, reading);
  const wrong = comparison.filter(({ verdict }) => verdict === 'mismatch').map(({ field }) => field);
  requireIdentity(found);
  if (input.outcome === 'accept') requireAcceptable(found, wrong, today);
  const tooShort = input.outcome === 'accept' ? await shortExpiry(work, order.caseId, found, today) : null;
  if (tooShort !== null && input.why === undefined)
    throw new DomainError(
      'refused',
      'arrival.short-expiry',
      `${tooShort} Say why it is accepted all the same, or put it into quarantine.`,
      {},
      [{ pointer: '/why', message: 'Say why it is accepted all the same.' }],
    );
  if (input.outcome !== 'accept' && input.why === undefined)
    throw new DomainError('invalid', 'arrival.reason', 'Say why the lens goes into quarantine.', {}, [
      { pointer: '/why', message: 'Say what is wrong with it.' },
    ]);
  const serial = String(found['serial']);
  const seen = await seenBefore(work, serial, order.makerId);
  if (seen.where !== 'nowhere')
    throw new DomainError('conflict', 'arrival.seen-before', seenSentence(serial, seen));

  const arrived =
    order.state === 'arrived'
      ? order
      : await takeStep(work, order, 'arrive', { data: { arrivedAt: work.now } });
  const accepted = input.outcome === 'accept';
  const id = uuid();
  const lens = await work.tx.lensUnit.create({
    data: {
      clinicId: order.clinicId,
      id,
      makerId: order.makerId,
      serial,
      lot: found['lot'] === undefined ? null : String(found['lot']),
      gtin: found['gtin'] === undefined ? null : String(found['gtin']),
      expiresOn: toDate(String(found['expiresOn'])),
      lens: lensOf(found),
      labelText: input.label.text,
      orderId,
      caseId: null,
      state: accepted ? 'in_stock' : 'quarantined',
      stateSince: work.now,
      location: input.location,
      receivedAt: work.now,
      receivedBy: work.personId,
      quarantineWhy: accepted ? null : (input.why ?? null),
      damaged: input.outcome === 'damaged',
      owner: input.owner ?? 'clinic',
    },
  });
  work.record({
    clinicId: order.clinicId,
    action: 'lens.receive',
    caseId: order.caseId,
    orderId,
    lensId: id,
    facts: { serial, after: lens.state, location: lens.location },
    why: input.why ?? null,
  });
  // Reserved before the order is done with, so that the case never seems to have no lens.
  if (accepted) await reserveForEye(work, lens, order);
  await takeStep(work, arrived, accepted ? 'accept' : 'quarantine', {
    data: accepted ? { endedAt: work.now, note: null } : { note: input.why ?? null },
    facts: {
      serial: lens.serial,
      ...(input.outcome === 'damaged' ? { damaged: true } : {}),
      ...(tooShort === null ? {} : { tooShort }),
      comparison: comparison.map(({ field, verdict }) => `${field}: ${verdict}`),
    },
    why: input.why ?? null,
  });
  await refreshStage(work, order.caseId);
  return id;
}

const inWords = (fields: readonly string[]): string =>
  fields.map((field) => labelWords[field] ?? field).join(', ');

function requireIdentity(found: Found): void {
  const errors = (['serial', 'expiresOn'] as const)
    .filter((field) => found[field] === undefined)
    .map((field) => ({
      pointer: `/label/${field}`,
      message: 'Read it off the pack: a lens without it can’t be kept on record.',
    }));
  if (errors.length > 0)
    throw new DomainError(
      'invalid',
      'arrival.incomplete',
      'A lens is taken in with its serial number and expiry date at least.',
      {},
      errors,
    );
}

function requireAcceptable(found: Found, wrong: readonly string[], today: string): void {
  const missing = fieldsToRead.filter(
    (field) => found[field] === undefined && !(field === 'axisDeg' && found['cylinderD'] === 0),
  );
  if (missing.length > 0)
    throw new DomainError(
      'invalid',
      'arrival.incomplete',
      `Read ${inWords(missing)} off the pack before accepting it.`,
      { missing },
      [...missing.map((field) => ({ pointer: `/label/${field}`, message: 'Read it off the pack.' }))],
    );
  if (wrong.length > 0)
    throw new DomainError(
      'refused',
      'arrival.mismatch',
      `The pack differs from the order in ${inWords(wrong)}; it can only go into quarantine.`,
      { wrong },
    );
  if (String(found['expiresOn']) <= today)
    throw new DomainError(
      'refused',
      'arrival.expired',
      'The lens has expired; it can only go into quarantine.',
      {
        expiresOn: String(found['expiresOn']),
      },
    );
}

/** What was read off the pack; null where nothing was, never what was ordered instead. */
function lensOf(found: Found) {
  return {
    eye: eyes.find((side) => eyeInCapitals[side] === found['eye']) ?? null,
    sphereD: found['sphereD'] ?? null,
    cylinderD: found['cylinderD'] ?? null,
    axisDeg: found['axisDeg'] ?? null,
    lengthMm: found['lengthMm'] ?? null,
  };
}
