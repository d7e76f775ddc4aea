import type { ArrivalReading, LabelEntry, ReadArrival } from '@lensferry/contracts';
import {
  compareLabel,
  DomainError,
  eyeInCapitals,
  LabelError,
  openWithMaker,
  readLabel,
  type LabelReading,
  type Specification,
} from '@lensferry/domain';
import { describeOrders } from '../orders/orders.queries.js';
import type { OrderRow } from '../orders/orders.store.js';
import { fromDate, fromDateOrNull, plusDays } from '../platform/plain-date.js';
import { networkSettings } from '../platform/settings-of-network.js';
import { within } from '../platform/state-keys.js';
import type { Work } from '../platform/work.js';
import { seenBefore, seenSentence } from './seen-before.queries.js';

/** What a label says, from its code and from what the person typed off the pack. */
export type Found = Record<string, string | number | null>;

/** The fields that must be read off the pack and equal the order before a lens is accepted. */
export const fieldsToRead = [
  'eye',
  'sphereD',
  'cylinderD',
  'axisDeg',
  'lengthMm',
  'caseCode',
  'serial',
  'expiresOn',
] as const;

/**
 * Reads what stands on a label. The code and the typed fields must agree where both say something.
 * @throws DomainError `label.…` with the parser's own sentence, or `label.disagrees`.
 */
export function readEntry(entry: LabelEntry, today: string): { found: Found; reading: LabelReading | null } {
  const reading = entry.text.trim() === '' ? null : parse(entry.text, today);
  const found: Found = {};
  if (reading !== null) {
    const { serial, lot, expiresOn, gtin, lens } = reading;
    Object.assign(found, defined({ serial, lot, expiresOn, gtin, ...lens }));
  }
  const { text: _text, eye, ...typed } = entry;
  const written = defined({ ...typed, eye: eye === undefined ? undefined : eyeInCapitals[eye] });
  for (const [field, value] of Object.entries(written)) {
    if (field in found && found[field] !== value)
      throw new DomainError(
        'invalid',
        'label.disagrees',
        `The code says ${String(found[field])} for ${field}, but ${String(value)} was typed; look at the pack again.`,
        { field },
        [{ pointer: `/label/${field}`, message: `The code says ${String(found[field])}.` }],
      );
    found[field] = value;
  }
  return { found, reading };
}

function parse(text: string, today: string): LabelReading {
  try {
    return readLabel(text, { today });
  } catch (error) {
    if (error instanceof LabelError)
      throw new DomainError('invalid', error.code, error.message, { position: error.position }, [
        { pointer: '/label/text', message: error.message },
      ]);
    throw error;
  }
}

function defined(values: Record<string, string | number | null | undefined>): Found {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as Found;
}

/** What the order says the label must say, as far as the maker has announced its unit. */
export function expectedOf(order: OrderRow): Found {
  const spec = order.specification as unknown as Specification;
  const unit = (order.announcedUnit ?? {}) as {
    serial?: string;
    lot?: string | null;
    expiresOn?: string;
    gtin?: string | null;
  };
  return {
    eye: eyeInCapitals[spec.eye],
    sphereD: spec.sphereD,
    cylinderD: spec.cylinderD,
    axisDeg: spec.axisDeg,
    lengthMm: spec.lengthMm,
    caseCode: spec.caseCode,
    ...defined({
      serial: unit.serial,
      expiresOn: unit.expiresOn,
      lot: unit.lot ?? undefined,
      gtin: unit.gtin ?? undefined,
    }),
  };
}

/** The comparison, field by field, tolerant of nothing. */
export function compare(order: OrderRow, found: Found, reading: LabelReading | null) {
  const { eye, sphereD, cylinderD, axisDeg, lengthMm, caseCode, ...pack } = found;
  const whole = [eye, sphereD, cylinderD, lengthMm, caseCode].every((value) => value !== undefined);
  const asReading = {
    ...(reading ?? { scheme: 'serial', elements: [], warnings: [], raw: '' }),
    ...pack,
    ...(whole
      ? { lens: { eye, sphereD, cylinderD, axisDeg: axisDeg ?? null, lengthMm, caseCode } }
      : { lens: undefined }),
  } as unknown as LabelReading;
  const rows = compareLabel(expectedOf(order) as never, asReading);
  // A lens that is typed bit by bit is compared bit by bit.
  return rows.map((row) => {
    if (row.verdict !== 'not on label' || !(row.field in found)) return { ...row };
    const value = found[row.field] ?? null;
    return {
      ...row,
      found: value,
      verdict: value === row.expected ? ('match' as const) : ('mismatch' as const),
    };
  });
}

/** The fields of a label in words, for sentences. */
export const labelWords: Readonly<Record<string, string>> = {
  eye: 'eye',
  sphereD: 'sphere',
  cylinderD: 'cylinder',
  axisDeg: 'axis',
  lengthMm: 'length',
  caseCode: 'case code',
  serial: 'serial number',
  expiresOn: 'expiry date',
  lot: 'lot',
  gtin: 'article number',
};

/** Reads a label at the receiving desk and says which order it belongs to, before anything is written. */
export async function readArrival(work: Work, { label, orderId }: ReadArrival): Promise<ArrivalReading> {
  work.need('arrival.receive');
  const { found, reading } = readEntry(label, fromDate(work.now));
  const base = {
    scheme: reading?.scheme ?? 'typed',
    warnings: reading?.warnings.map(({ message }) => message) ?? [],
    found,
    shortExpiry: null,
    transferId: null as string | null,
    sameParcel: [] as string[],
  };
  const { orders } = await within(work);
  const waiting = await work.tx.lensOrder.findMany({ where: orders([...openWithMaker, 'arrived']) });
  const order = chooseOrder(waiting, found, orderId);
  const candidates = order === null ? await describeOrders(work, likely(waiting, found)) : [];
  const serial = found['serial'] === undefined ? null : String(found['serial']);
  const seen =
    serial === null
      ? ({ where: 'nowhere' } as const)
      : await seenBefore(work, serial, order?.makerId ?? null);
  if (serial !== null && seen.where !== 'nowhere') {
    const transfer = await transferOnItsWay(work, serial);
    return {
      ...base,
      transferId: transfer?.id ?? null,
      order: null,
      candidates: [],
      comparison: [],
      missing: [],
      verdict: 'seen before',
      sentence:
        transfer === null
          ? seenSentence(serial, seen)
          : `Lens ${serial} comes from another clinic of the network. Take it in on its transfer.`,
    };
  }
  if (order === null) {
    const missing = fieldsToRead.filter(
      (field) => !(field in found) && !(field === 'axisDeg' && found['cylinderD'] === 0),
    );
    return {
      ...base,
      order: null,
      candidates,
      comparison: [],
      missing,
      verdict: missing.length > 0 ? 'incomplete' : 'unknown',
      sentence:
        missing.length > 0
          ? 'Type the other fields off the pack to find its order.'
          : 'No order waits for this lens. Keep the parcel apart and note it as unexpected.',
    };
  }
  const comparison = compare(order, found, reading);
  const missing = fieldsToRead.filter(
    (field) => !(field in found) && !(field === 'axisDeg' && found['cylinderD'] === 0),
  );
  const wrong = comparison.filter(({ verdict }) => verdict === 'mismatch');
  const verdict = wrong.length > 0 ? 'mismatch' : missing.length > 0 ? 'incomplete' : 'match';
  const [described] = await describeOrders(work, [order]);
  return {
    ...base,
    order: described ?? null,
    candidates: [],
    comparison,
    missing,
    verdict,
    shortExpiry: await shortExpiry(work, order.caseId, found, fromDate(work.now)),
    sameParcel: waiting
      .filter(
        ({ id, state, makerId, tracking }) =>
          id !== order.id &&
          state === 'shipped' &&
          makerId === order.makerId &&
          tracking !== null &&
          tracking === order.tracking,
      )
      .map(({ number }) => number),
    sentence: sentenceFor(verdict, order.number, wrong, missing),
  };
}

/** The transfer by which a unit is on its way to one of the person's clinics. */
function transferOnItsWay({ tx, actor }: Work, serial: string) {
  return tx.lensTransfer.findFirst({
    where: { serial, state: 'sent', toClinicId: { in: [...actor.clinicIds] } },
  });
}

function sentenceFor(
  verdict: 'match' | 'mismatch' | 'incomplete',
  number: string,
  wrong: readonly { field: string }[],
  missing: readonly string[],
): string {
  const names = (fields: readonly string[]): string =>
    fields.map((field) => labelWords[field] ?? field).join(', ');
  if (verdict === 'match') return `Everything on the pack is what order ${number} says.`;
  if (verdict === 'mismatch')
    return `This is not what order ${number} says: ${names(wrong.map(({ field }) => field))}. Put it into quarantine.`;
  return `So far it is what order ${number} says; type ${names(missing)} off the pack.`;
}

function chooseOrder(
  waiting: readonly OrderRow[],
  found: Found,
  orderId: string | undefined,
): OrderRow | null {
  if (orderId !== undefined) return waiting.find(({ id }) => id === orderId) ?? null;
  const bySerial = waiting.filter(
    (order) => found['serial'] !== undefined && expectedOf(order)['serial'] === found['serial'],
  );
  if (bySerial.length === 1) return bySerial[0] ?? null;
  const byCase = waiting.filter(
    (order) => found['caseCode'] !== undefined && expectedOf(order)['caseCode'] === found['caseCode'],
  );
  return byCase.length === 1 ? (byCase[0] ?? null) : null;
}

/**
 * Why the expiry date is too near: it must outlast the theatre date, or today without one, by the network's margin.
 * Null when it is far enough or not read.
 */
export async function shortExpiry(work: Work, caseId: string, found: Found, today: string) {
  if (found['expiresOn'] === undefined) return null;
  const expiresOn = String(found['expiresOn']);
  const eyeCase = await work.tx.eyeCase.findFirstOrThrow({ where: { id: caseId } });
  const { expiryDaysAfterTheatre: days } = await networkSettings(work);
  const theatreOn = fromDateOrNull(eyeCase.theatreOn);
  const from = theatreOn !== null && theatreOn > today ? theatreOn : today;
  if (expiresOn >= plusDays(from, days)) return null;
  const after = theatreOn === from ? `theatre on ${theatreOn}` : 'today';
  return `It expires on ${expiresOn}, less than ${days} days after ${after}.`;
}

/** Orders that could be meant, those already shipped first. */
function likely(waiting: readonly OrderRow[], found: Found): OrderRow[] {
  const eye = found['eye'];
  return waiting
    .filter((order) => eye === undefined || expectedOf(order)['eye'] === eye)
    .sort((a, b) => Number(b.state === 'shipped') - Number(a.state === 'shipped'))
    .slice(0, 12);
}
