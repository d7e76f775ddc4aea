import { eyes, lensOwners, parcelEvents, parcelStates } from '@lensferry/domain';
import { z } from 'zod';
import { Id, Instant, PlainDate, Sentence, ShortText, Version } from './common.js';
import { OrderSummary } from './orders.js';

/** What stands on the label in front of the person, as scanned or typed. Nothing is filled in for them. */
export const LabelEntry = z
  .strictObject({
    /** The code as the scanner sent it; empty when there is none. */
    text: z.string().max(400).default(''),
    serial: ShortText.optional(),
    lot: ShortText.optional(),
    expiresOn: PlainDate.optional(),
    eye: z.enum(eyes).optional(),
    sphereD: z.number().optional(),
    cylinderD: z.number().optional(),
    axisDeg: z.int().min(1).max(180).nullable().optional(),
    lengthMm: z.number().optional(),
    caseCode: ShortText.optional(),
  })
  .meta({ id: 'LabelEntry' });
export type LabelEntry = z.infer<typeof LabelEntry>;

export const FieldVerdict = z
  .object({
    field: z.string(),
    expected: z.union([z.string(), z.number(), z.null()]),
    found: z.union([z.string(), z.number(), z.null()]),
    verdict: z.enum(['match', 'mismatch', 'not on label']),
  })
  .meta({ id: 'FieldVerdict' });
export type FieldVerdict = z.infer<typeof FieldVerdict>;

/** What was read, which order it can belong to, and how it compares with it. */
export const ArrivalReading = z
  .object({
    scheme: z.string(),
    warnings: z.array(z.string()),
    found: z.record(z.string(), z.union([z.string(), z.number(), z.null()])),
    /** The order this unit belongs to, when one does. */
    order: OrderSummary.nullable(),
    /** Orders that wait for a parcel, when the label alone does not decide. */
    candidates: z.array(OrderSummary),
    comparison: z.array(FieldVerdict),
    /** Fields that the code doesn't hold and the person still has to read off the pack. */
    missing: z.array(z.string()),
    verdict: z.enum(['match', 'mismatch', 'incomplete', 'unknown', 'seen before']),
    sentence: z.string(),
    /** The transfer by which it comes from another clinic: it is taken in there. */
    transferId: Id.nullable(),
    /** Numbers of orders that the maker announced with the same parcel and that were not taken in yet. */
    sameParcel: z.array(z.string()),
    /** It expires sooner after theatre than the network wants; accepted only with a reason. */
    shortExpiry: z.string().nullable(),
  })
  .meta({ id: 'ArrivalReading' });
export type ArrivalReading = z.infer<typeof ArrivalReading>;

export const ReadArrival = z
  .strictObject({ label: LabelEntry, orderId: Id.optional() })
  .meta({ id: 'ReadArrival' });
export type ReadArrival = z.infer<typeof ReadArrival>;

/** Takes a unit in: onto the shelf and reserved to its case, or into quarantine with the reason. */
export const ReceiveLens = z
  .strictObject({
    label: LabelEntry,
    /** Onto the shelf and reserved; or aside, for what the label says or because the pack is damaged. */
    outcome: z.enum(['accept', 'quarantine', 'damaged']),
    location: ShortText,
    /** Whose it is; the clinic's where nothing is said. */
    owner: z.enum(lensOwners).optional(),
    why: Sentence.optional(),
  })
  .meta({ id: 'ReceiveLens' });
export type ReceiveLens = z.infer<typeof ReceiveLens>;

/** A parcel that came and that no order of ours waits for. */
export const KeepParcel = z
  .strictObject({ clinicId: Id, label: LabelEntry, location: ShortText, note: Sentence })
  .meta({ id: 'KeepParcel' });
export type KeepParcel = z.infer<typeof KeepParcel>;

export const UnexpectedParcel = z
  .object({
    id: Id,
    clinic: z.object({ id: Id, name: z.string() }),
    found: z.record(z.string(), z.union([z.string(), z.number(), z.null()])),
    location: z.string(),
    note: z.string(),
    state: z.enum(parcelStates),
    stateSince: Instant,
    receivedAt: Instant,
    receivedByName: z.string(),
    orderId: Id.nullable(),
    endedWhy: z.string().nullable(),
    version: Version,
    steps: z.array(z.enum(parcelEvents)),
  })
  .meta({ id: 'UnexpectedParcel' });
export type UnexpectedParcel = z.infer<typeof UnexpectedParcel>;
export const UnexpectedParcels = z
  .object({ items: z.array(UnexpectedParcel) })
  .meta({ id: 'UnexpectedParcels' });
export type UnexpectedParcels = z.infer<typeof UnexpectedParcels>;

/** The order that an unexpected parcel turned out to belong to. */
export const MatchParcel = z
  .strictObject({ version: Version, orderId: Id, why: Sentence })
  .meta({ id: 'MatchParcel' });
export type MatchParcel = z.infer<typeof MatchParcel>;
