import { transferEvents, transferStates } from '@lensferry/domain';
import { z } from 'zod';
import { LabelEntry } from './arrivals.js';
import { Id, Instant, PlainDate, Sentence, ShortText, Version } from './common.js';
import { LensSummary, ReadLens } from './lenses.js';

/** A unit that one clinic of the network gives and another takes, as either end sees it. */
export const LensTransfer = z
  .object({
    id: Id,
    serial: z.string(),
    lot: z.string().nullable(),
    expiresOn: PlainDate,
    maker: z.object({ id: Id, name: z.string() }),
    designCode: z.string(),
    lens: ReadLens,
    /** The number under which its maker knows it. */
    madeUnder: z.string(),
    from: z.object({ id: Id, name: z.string() }),
    /** Null while it is offered to whoever needs it. */
    to: z.object({ id: Id, name: z.string() }).nullable(),
    state: z.enum(transferStates),
    stateSince: Instant,
    offeredAt: Instant,
    tracking: z.string().nullable(),
    note: z.string().nullable(),
    /** The giver's unit, for the giver; the taker's order and unit, for the taker. */
    lensId: Id.nullable(),
    order: z.object({ id: Id, number: z.string() }).nullable(),
    arrivedLensId: Id.nullable(),
    /** Signed orders of one's own clinics that ask for exactly it, while it is offered. */
    fits: z.array(z.object({ id: Id, number: z.string(), clinicName: z.string() })),
    version: Version,
    /** The steps that the person who asks can take now. */
    steps: z.array(z.enum(transferEvents)),
  })
  .meta({ id: 'LensTransfer' });
export type LensTransfer = z.infer<typeof LensTransfer>;

/** What is under way, and what ended in the last thirty days; at most two hundred. */
export const LensTransfers = z.object({ items: z.array(LensTransfer) }).meta({ id: 'LensTransfers' });
export type LensTransfers = z.infer<typeof LensTransfers>;

/** What an order asks for and need not be made: on the clinic's own shelf, and offered by others; the first to expire on top. */
export const FittingLenses = z
  .object({ items: z.array(LensSummary), offers: z.array(LensTransfer) })
  .meta({ id: 'FittingLenses' });
export type FittingLenses = z.infer<typeof FittingLenses>;

/** Offers a free unit to one clinic, or to whoever of the network needs it. */
export const OfferLens = z
  .strictObject({ version: Version, toClinicId: Id.optional(), why: Sentence })
  .meta({ id: 'OfferLens' });
export type OfferLens = z.infer<typeof OfferLens>;

/** Takes an offered unit up for a signed order that asks for exactly it; a reason where it expires early. */
export const AcceptTransfer = z
  .strictObject({ version: Version, orderId: Id, why: Sentence.optional() })
  .meta({ id: 'AcceptTransfer' });
export type AcceptTransfer = z.infer<typeof AcceptTransfer>;

/** The unit has left for the other clinic. */
export const SendTransfer = z
  .strictObject({ version: Version, tracking: ShortText })
  .meta({ id: 'SendTransfer' });
export type SendTransfer = z.infer<typeof SendTransfer>;

/** The pack is here, whole, and says what was offered. */
export const ReceiveTransfer = z
  .strictObject({ version: Version, label: LabelEntry, location: ShortText })
  .meta({ id: 'ReceiveTransfer' });
export type ReceiveTransfer = z.infer<typeof ReceiveTransfer>;

/** A refused lens is back and whole, and stands here. */
export const TakeBackTransfer = z
  .strictObject({ version: Version, location: ShortText, why: Sentence })
  .meta({ id: 'TakeBackTransfer' });
export type TakeBackTransfer = z.infer<typeof TakeBackTransfer>;
