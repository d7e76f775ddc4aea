import { z } from 'zod';

/** Number of decimals that a lens quantity may carry on the wire: hundredths, as labels print them. */
const hundredths = z.number().multipleOf(0.01);

/** A plain calendar date, `2026-11-25`. It is a day at the receiver, not an instant. */
const plainDate = z.iso.date();

/** An instant in UTC, `2026-11-25T08:11:09.000Z`. */
const instant = z.iso.datetime();

/** One line of text that a person wrote, 1 to 500 characters. */
const sentence = z.string().trim().min(1).max(500);

/** An order's number as both sides quote it, such as `LF-2611-0187` (year and month, then a running number). */
export const OrderNumber = z
  .string()
  .regex(/^[A-Z]{2}-\d{4}-\d{4,6}$/, 'Write the number as two letters, four digits and a running number.')
  .meta({ id: 'OrderNumber', examples: ['LF-2611-0187'] });
export type OrderNumber = z.infer<typeof OrderNumber>;

/** A return's number, in the same form as an order's, such as `LR-2611-0012`. */
export const ReturnNumber = z
  .string()
  .regex(/^[A-Z]{2}-\d{4}-\d{4,6}$/, 'Write the number as two letters, four digits and a running number.')
  .meta({ id: 'ReturnNumber', examples: ['LR-2611-0012'] });
export type ReturnNumber = z.infer<typeof ReturnNumber>;

/** A case (one eye) without the patient's name: clinic letters, number, and R or L for the eye. */
export const CaseCode = z
  .string()
  .regex(/^[A-Z]{2,5}-\d{4,6}[RL]$/, 'Write the case as clinic letters, a number and R or L, as EST-0042R.')
  .meta({ id: 'CaseCode', examples: ['EST-0042R'] });
export type CaseCode = z.infer<typeof CaseCode>;

/** The eye that a lens is made for, always in words and capitals on what leaves the house. */
export const OrderedEye = z.enum(['RIGHT', 'LEFT']).meta({ id: 'OrderedEye' });
export type OrderedEye = z.infer<typeof OrderedEye>;

const isEyeOfCase = ({ caseCode, eye }: { caseCode: string; eye: 'RIGHT' | 'LEFT' }): boolean =>
  caseCode.endsWith(eye === 'RIGHT' ? 'R' : 'L');
const eyeOfCase = { path: ['eye'], message: 'The eye must be the one that the case code ends in.' };

/** The clinic that orders, by its letters and its name. */
const orderingClinic = z.strictObject({
  code: z.string().regex(/^[A-Z]{2,5}$/),
  name: z.string().trim().min(1).max(120),
});

/**
 * What is to be made. Powers in dioptres at the lens plane with the cylinder in minus form, axis in degrees
 * 1 to 180 (`null` exactly when the cylinder is 0, because a sphere has no axis), overall length in mm.
 */
export const OrderedLens = z
  .strictObject({
    designCode: z.string().regex(/^[A-Z0-9][A-Z0-9-]{0,31}$/),
    designVersion: z.int().min(1).max(9999),
    sphereD: hundredths.min(-40).max(40),
    cylinderD: hundredths.min(-20).max(0),
    axisDeg: z.int().min(1).max(180).nullable(),
    lengthMm: hundredths.min(8).max(16),
  })
  .refine((lens) => (lens.cylinderD === 0) === (lens.axisDeg === null), {
    path: ['axisDeg'],
    message: 'Give an axis with a cylinder, and none (null) with a cylinder of 0.',
  })
  .meta({ id: 'OrderedLens' });
export type OrderedLens = z.infer<typeof OrderedLens>;

/** Serial number of one unit: 1 to 20 characters of the GS1 character set 82 that never need escaping. */
export const UnitSerial = z
  .string()
  .regex(/^[A-Z0-9][A-Z0-9./-]{0,19}$/)
  .meta({ id: 'UnitSerial' });
export type UnitSerial = z.infer<typeof UnitSerial>;

/**
 * An order for one lens as a maker receives it. Holds the clinic, the eye and a case code, never a patient.
 * `specificationHash` is the SHA-256 (lower-case hex) of the canonical specification that `signedBy` signed.
 */
export const OrderDocument = z
  .strictObject({
    document: z.literal('lens-order'),
    version: z.literal(1),
    orderNumber: OrderNumber,
    caseCode: CaseCode,
    clinic: orderingClinic,
    eye: OrderedEye,
    lens: OrderedLens,
    specificationHash: z.string().regex(/^[0-9a-f]{64}$/),
    needBy: plainDate.nullable(),
    replaces: OrderNumber.nullable(),
    urgent: z.boolean(),
    signedBy: z.string().trim().min(1).max(120),
    signedAt: instant,
    placedAt: instant,
  })
  .refine(isEyeOfCase, eyeOfCase)
  .refine((order) => order.replaces !== order.orderNumber, {
    path: ['replaces'],
    message: 'An order cannot replace itself.',
  })
  .meta({ id: 'OrderDocument' });
export type OrderDocument = z.infer<typeof OrderDocument>;

/** Why a lens goes back to its maker. */
export const ReturnReason = z
  .enum([
    'vault-high',
    'vault-low',
    'edge-capture',
    'rotation',
    'refractive',
    'damage',
    'wrong-lens',
    'unused',
  ])
  .meta({ id: 'ReturnReason' });
export type ReturnReason = z.infer<typeof ReturnReason>;

/** Notice to a maker that one unit is to come back; the maker answers with an authorisation. */
export const ReturnDocument = z
  .strictObject({
    document: z.literal('lens-return'),
    version: z.literal(1),
    returnNumber: ReturnNumber,
    serial: UnitSerial,
    designCode: z.string().regex(/^[A-Z0-9][A-Z0-9-]{0,31}$/),
    orderNumber: OrderNumber,
    reason: ReturnReason,
    clinic: orderingClinic,
  })
  .meta({ id: 'ReturnDocument' });
export type ReturnDocument = z.infer<typeof ReturnDocument>;

/**
 * Asks a maker not to make, or not to send, an order that it has. The maker answers that it agrees or that it is too
 * late; until it does, the order stands.
 */
export const CancellationDocument = z
  .strictObject({
    document: z.literal('order-cancellation'),
    version: z.literal(1),
    orderNumber: OrderNumber,
    reason: sentence,
    clinic: orderingClinic,
    askedAt: instant,
  })
  .meta({ id: 'CancellationDocument' });
export type CancellationDocument = z.infer<typeof CancellationDocument>;

/**
 * Asks a maker to change an order that it has: another day by which the lens is needed, or another lens under a new
 * signature. It says the order in full as it is to be from now on; until the maker agrees, the order stands as it was.
 * `change` counts the changes of an order from 1; the maker's answer repeats it.
 */
export const ChangeDocument = z
  .strictObject({
    document: z.literal('order-change'),
    version: z.literal(1),
    orderNumber: OrderNumber,
    change: z.int().min(1).max(999),
    changed: z.array(z.enum(['needBy', 'lens'])).min(1),
    caseCode: CaseCode,
    clinic: orderingClinic,
    eye: OrderedEye,
    lens: OrderedLens,
    specificationHash: z.string().regex(/^[0-9a-f]{64}$/),
    needBy: plainDate.nullable(),
    reason: sentence,
    signedBy: z.string().trim().min(1).max(120),
    signedAt: instant,
    askedAt: instant,
  })
  .refine(isEyeOfCase, eyeOfCase)
  .meta({ id: 'ChangeDocument' });
export type ChangeDocument = z.infer<typeof ChangeDocument>;

/**
 * Asks a maker when the lenses of some orders that it has will come. It changes nothing; the maker answers each order
 * by the messages that it has for it: an acknowledgement, a promise (the same one again where nothing changed), or a
 * shipping notice. `promisedOn` is the day that the clinic has on record.
 */
export const InquiryDocument = z
  .strictObject({
    document: z.literal('order-inquiry'),
    version: z.literal(1),
    inquiryNumber: OrderNumber,
    clinic: orderingClinic,
    askedAt: instant,
    orders: z
      .array(
        z.strictObject({
          orderNumber: OrderNumber,
          caseCode: CaseCode,
          needBy: plainDate.nullable(),
          promisedOn: plainDate.nullable(),
        }),
      )
      .min(1)
      .max(100),
  })
  .meta({ id: 'InquiryDocument' });
export type InquiryDocument = z.infer<typeof InquiryDocument>;

/** A maker took the order and repeats what it will make; an echo that differs must stop the order. */
export const OrderAcknowledged = z
  .strictObject({
    type: z.literal('order.acknowledged'),
    sentAt: instant,
    orderNumber: OrderNumber,
    echo: z.strictObject({ eye: OrderedEye, lens: OrderedLens }),
    promisedOn: plainDate,
  })
  .meta({ id: 'OrderAcknowledged' });
export type OrderAcknowledged = z.infer<typeof OrderAcknowledged>;

/** A maker moves the date on which it promised the lens. */
export const OrderPromiseChanged = z
  .strictObject({
    type: z.literal('order.promise-changed'),
    sentAt: instant,
    orderNumber: OrderNumber,
    promisedOn: plainDate,
    reason: sentence,
  })
  .meta({ id: 'OrderPromiseChanged' });
export type OrderPromiseChanged = z.infer<typeof OrderPromiseChanged>;

/** A maker will not make the lens, and says why. */
export const OrderDeclined = z
  .strictObject({
    type: z.literal('order.declined'),
    sentAt: instant,
    orderNumber: OrderNumber,
    reason: sentence,
  })
  .meta({ id: 'OrderDeclined' });
export type OrderDeclined = z.infer<typeof OrderDeclined>;

/** The maker agrees: the order is cancelled. */
export const CancellationAccepted = z
  .strictObject({ type: z.literal('order.cancellation-accepted'), sentAt: instant, orderNumber: OrderNumber })
  .meta({ id: 'CancellationAccepted' });
export type CancellationAccepted = z.infer<typeof CancellationAccepted>;

/** It is too late to cancel: the order stands, and the maker says why. */
export const CancellationRefused = z
  .strictObject({
    type: z.literal('order.cancellation-refused'),
    sentAt: instant,
    orderNumber: OrderNumber,
    reason: sentence,
  })
  .meta({ id: 'CancellationRefused' });
export type CancellationRefused = z.infer<typeof CancellationRefused>;

/**
 * The maker agrees to a change and repeats what it will make now; an echo that differs must stop the order. A
 * `promisedOn` of null leaves the promise as it was.
 */
export const ChangeAccepted = z
  .strictObject({
    type: z.literal('order.change-accepted'),
    sentAt: instant,
    orderNumber: OrderNumber,
    change: z.int().min(1).max(999),
    echo: z.strictObject({ eye: OrderedEye, lens: OrderedLens }),
    promisedOn: plainDate.nullable(),
  })
  .meta({ id: 'ChangeAccepted' });
export type ChangeAccepted = z.infer<typeof ChangeAccepted>;

/** The maker can't change the order, and says why: it stands as it was. */
export const ChangeRefused = z
  .strictObject({
    type: z.literal('order.change-refused'),
    sentAt: instant,
    orderNumber: OrderNumber,
    change: z.int().min(1).max(999),
    reason: sentence,
  })
  .meta({ id: 'ChangeRefused' });
export type ChangeRefused = z.infer<typeof ChangeRefused>;

/** One made unit as its maker announces it; `labelText` is what a scanner will read from the pack. */
export const ShippedUnit = z
  .strictObject({
    serial: UnitSerial,
    lot: z.string().regex(/^[A-Z0-9][A-Z0-9./-]{0,19}$/),
    expiresOn: plainDate,
    gtin: z
      .string()
      .regex(/^\d{14}$/)
      .nullable(),
    labelText: z.string().min(1).max(400),
  })
  .meta({ id: 'ShippedUnit' });
export type ShippedUnit = z.infer<typeof ShippedUnit>;

/** The lens has left the maker. */
export const OrderShipped = z
  .strictObject({
    type: z.literal('order.shipped'),
    sentAt: instant,
    orderNumber: OrderNumber,
    trackingReference: z.string().trim().min(1).max(60),
    expectedOn: plainDate,
    unit: ShippedUnit,
  })
  .meta({ id: 'OrderShipped' });
export type OrderShipped = z.infer<typeof OrderShipped>;

/** The maker lets the unit come back under this authorisation. */
export const ReturnAuthorised = z
  .strictObject({
    type: z.literal('return.authorised'),
    sentAt: instant,
    returnNumber: ReturnNumber,
    authorisation: z.string().trim().min(1).max(60),
  })
  .meta({ id: 'ReturnAuthorised' });
export type ReturnAuthorised = z.infer<typeof ReturnAuthorised>;

/** The unit reached its maker. */
export const ReturnReceived = z
  .strictObject({ type: z.literal('return.received'), sentAt: instant, returnNumber: ReturnNumber })
  .meta({ id: 'ReturnReceived' });
export type ReturnReceived = z.infer<typeof ReturnReceived>;

/** Money given back for the unit: a decimal string (never a float) in an ISO 4217 currency; `0` is an answer too. */
export const ReturnCredited = z
  .strictObject({
    type: z.literal('return.credited'),
    sentAt: instant,
    returnNumber: ReturnNumber,
    amount: z.string().regex(/^(0|[1-9]\d{0,8})(\.\d{1,3})?$/),
    currency: z.string().regex(/^[A-Z]{3}$/),
  })
  .meta({ id: 'ReturnCredited' });
export type ReturnCredited = z.infer<typeof ReturnCredited>;

/** Everything that a maker may tell Lensferry, told apart by `type`. */
export const MakerMessage = z
  .discriminatedUnion('type', [
    OrderAcknowledged,
    OrderPromiseChanged,
    OrderDeclined,
    OrderShipped,
    CancellationAccepted,
    CancellationRefused,
    ChangeAccepted,
    ChangeRefused,
    ReturnAuthorised,
    ReturnReceived,
    ReturnCredited,
  ])
  .meta({ id: 'MakerMessage' });
export type MakerMessage = z.infer<typeof MakerMessage>;

/** A maker's first answer to a document: it has it, and quotes its own reference. */
export const MakerReceipt = z
  .strictObject({ received: z.literal(true), reference: z.string().min(1).max(80) })
  .meta({ id: 'MakerReceipt' });
export type MakerReceipt = z.infer<typeof MakerReceipt>;
