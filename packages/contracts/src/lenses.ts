import { eyes, lensOwners, lensStates, returnEvents, returnStates } from '@lensferry/domain';
import { z } from 'zod';
import {
  Amount,
  Channel,
  Id,
  Instant,
  pageOf,
  PlainDate,
  Sentence,
  ShortText,
  Telling,
  Version,
} from './common.js';

/** What a lens is, wholly read: what a lens that may go into an eye must be. */
export const ReadLens = z.object({
  eye: z.enum(eyes),
  sphereD: z.number(),
  cylinderD: z.number(),
  axisDeg: z.number().nullable(),
  lengthMm: z.number(),
});
export type ReadLens = z.infer<typeof ReadLens>;

/** Why the expiry of a lens is to be looked at: it is over, comes before theatre, or is near. */
export const ExpiryWarning = z
  .object({
    says: z.enum(['expired', 'before_theatre', 'soon']),
    theatreOn: PlainDate.nullable(),
    /** Whole days from today at the clinic; negative when it is over. */
    days: z.int(),
  })
  .meta({ id: 'ExpiryWarning' });
export type ExpiryWarning = z.infer<typeof ExpiryWarning>;

export const LensSummary = z
  .object({
    id: Id,
    serial: z.string(),
    lot: z.string().nullable(),
    expiresOn: PlainDate,
    state: z.enum(lensStates),
    stateSince: Instant,
    location: z.string(),
    version: Version,
    maker: z.object({ id: Id, name: z.string() }),
    clinic: z.object({ id: Id, name: z.string() }),
    order: z.object({ id: Id, number: z.string() }),
    case: z.object({ id: Id, code: z.string(), codeName: z.string(), eye: z.enum(eyes) }).nullable(),
    /** What was read off its pack; null where it was put into quarantine with that field unread. */
    lens: z.object({
      eye: z.enum(eyes).nullable(),
      sphereD: z.number().nullable(),
      cylinderD: z.number().nullable(),
      axisDeg: z.number().nullable(),
      lengthMm: z.number().nullable(),
    }),
    /** The fields of `lens` that nobody has read yet. */
    unread: z.array(z.enum(['eye', 'sphereD', 'cylinderD', 'axisDeg', 'lengthMm'])),
    quarantineWhy: z.string().nullable(),
    /** Its pack came damaged, so it can't go to an eye. */
    damaged: z.boolean(),
    owner: z.enum(lensOwners),
    /** It expires before the theatre date of its case, or within sixty days. */
    expiryWarning: ExpiryWarning.nullable(),
    returnId: Id.nullable(),
    /** The transfer to another clinic that holds it. */
    transferId: Id.nullable(),
    /** By when it can go back to its maker: the window counts from explantation, else from receipt. */
    returnBy: PlainDate.nullable(),
    /** What the person who asks can do with it now. */
    steps: z.array(
      z.enum(['read', 'release', 'reject', 'reserve', 'unreserve', 'return', 'offer', 'owner', 'discard']),
    ),
  })
  .meta({ id: 'LensSummary' });
export type LensSummary = z.infer<typeof LensSummary>;
/** One station of a unit on its way: who had it in hand, when, where it went, and why. */
export const CustodyStation = z
  .object({
    at: Instant,
    actorName: z.string(),
    actorKind: z.string(),
    /** What happened: `receive`, a step of the unit's lifecycle, `own`, or `transfer`. */
    event: z.string(),
    from: z.string().nullable(),
    to: z.string(),
    place: z.string().nullable(),
    why: z.string().nullable(),
  })
  .meta({ id: 'CustodyStation' });

/** A lens with where it has been, from the day its parcel was opened. */
export const LensDetail = LensSummary.extend({ custody: z.array(CustodyStation) }).meta({ id: 'LensDetail' });
export type LensDetail = z.infer<typeof LensDetail>;

/** Takes a unit from the shelf for an approved order of the same specification, or back for its own. */
export const ReserveLens = z
  .strictObject({ version: Version, orderId: Id, why: Sentence.optional() })
  .meta({ id: 'ReserveLens' });
export type ReserveLens = z.infer<typeof ReserveLens>;

/** Says whose a unit is, and why that changes. */
export const OwnLens = z
  .strictObject({ version: Version, owner: z.enum(lensOwners), why: Sentence })
  .meta({ id: 'OwnLens' });
export type OwnLens = z.infer<typeof OwnLens>;

export const LensPage = pageOf(LensSummary, 'LensPage');

/** What was read off a quarantined pack that was not read whole; the serial says that it is the same pack. */
export const ReadPack = z
  .strictObject({
    version: Version,
    serial: ShortText,
    eye: z.enum(eyes).optional(),
    sphereD: z.number().min(-50).max(50).optional(),
    cylinderD: z.number().min(-30).max(30).optional(),
    axisDeg: z.int().min(1).max(180).optional(),
    lengthMm: z.number().min(5).max(20).optional(),
  })
  .refine((read) => Object.values(read).filter((value) => value !== undefined).length > 2, {
    message: 'Say at least one thing that stands on the pack.',
  })
  .meta({ id: 'ReadPack' });
export type ReadPack = z.infer<typeof ReadPack>;

/** Starts sending a lens back. */
export const StartReturn = z.strictObject({ version: Version, reason: Sentence }).meta({ id: 'StartReturn' });
export type StartReturn = z.infer<typeof StartReturn>;

export const ReturnSummary = z
  .object({
    id: Id,
    number: z.string(),
    state: z.enum(returnStates),
    stateSince: Instant,
    version: Version,
    reason: z.string(),
    windowClosesOn: PlainDate,
    authorisation: z.string().nullable(),
    tracking: z.string().nullable(),
    creditExpected: Amount,
    creditGot: Amount.nullable(),
    currency: z.string(),
    note: z.string().nullable(),
    telling: Telling.nullable().describe(
      'How telling its maker stands; null while it is on its way, and once the maker answered.',
    ),
    openedAt: Instant,
    maker: z.object({ id: Id, name: z.string(), channel: Channel }),
    clinic: z.object({ id: Id, name: z.string(), timeZone: z.string() }),
    lens: z.object({ id: Id, serial: z.string() }),
    case: z.object({ id: Id, code: z.string(), codeName: z.string(), eye: z.enum(eyes) }).nullable(),
    steps: z.array(z.enum(returnEvents)),
  })
  .meta({ id: 'ReturnSummary' });
export type ReturnSummary = z.infer<typeof ReturnSummary>;
export const ReturnPage = pageOf(ReturnSummary, 'ReturnPage');

export const AuthoriseReturn = z
  .strictObject({ version: Version, authorisation: ShortText })
  .meta({ id: 'AuthoriseReturn' });
export const HandOverReturn = z
  .strictObject({ version: Version, tracking: ShortText })
  .meta({ id: 'HandOverReturn' });
export const CreditReturn = z.strictObject({ version: Version, amount: Amount }).meta({ id: 'CreditReturn' });

/** Which units a recall is about: a lot, a design, or a lot of a design. */
export const RecallQuery = z
  .strictObject({ lot: ShortText.optional(), designCode: ShortText.optional() })
  .meta({ id: 'RecallQuery' });
export type RecallQuery = z.infer<typeof RecallQuery>;

/** Every such unit at the clinics that the person may see, and the eyes that it is in, or was meant for. */
export const Recall = z
  .object({
    lenses: z.array(LensSummary),
    /** How many stand where: in an eye, on a shelf, gone back. */
    byState: z.record(z.string(), z.int()),
    cases: z.array(
      z.object({
        id: Id,
        code: z.string(),
        codeName: z.string(),
        eye: z.enum(eyes),
        clinicName: z.string(),
        /** A unit of the recall is in this eye now. */
        inEye: z.boolean(),
        serials: z.array(z.string()),
      }),
    ),
  })
  .meta({ id: 'Recall' });
export type Recall = z.infer<typeof Recall>;
