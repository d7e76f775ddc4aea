import { eyes, orderEvents, orderStates } from '@lensferry/domain';
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
  SpheroCylinder,
  Version,
  Telling,
} from './common.js';

export const SpecificationView = z
  .object({
    version: z.literal(1),
    caseCode: z.string(),
    eye: z.enum(eyes),
    makerCode: z.string(),
    designCode: z.string(),
    designVersion: z.int(),
    sphereD: z.number(),
    cylinderD: z.number(),
    axisDeg: z.number().nullable(),
    lengthMm: z.number(),
    target: SpheroCylinder,
    replacesSerial: z.string().nullable(),
  })
  .meta({ id: 'Specification' });

/** When a lens is likely to come: working-day forecast turned into dates, and the chance to be in time. */
export const ArrivalForecast = z
  .object({
    p10: PlainDate,
    p50: PlainDate,
    p90: PlainDate,
    /** Chance, 0 to 1, that it is here by the need-by date; null without one. */
    inTime: z.number().nullable(),
    /** How many earlier orders it rests on. */
    basedOn: z.int(),
    /** The first theatre date for which it is here with a chance of 95 %. */
    earliestTheatreOn: PlainDate.nullable(),
  })
  .meta({ id: 'ArrivalForecast' });
export type ArrivalForecast = z.infer<typeof ArrivalForecast>;

const difference = z.object({
  field: z.string(),
  before: z.union([z.string(), z.number(), z.null()]),
  after: z.union([z.string(), z.number(), z.null()]),
});

/** A change of an order that its maker has: proposed until it is signed, then asked for until it is answered. */
export const PendingChange = z
  .object({
    number: z.int(),
    /** A change of the specification needs a surgeon's signature; another need-by date does not. */
    kind: z.enum(['need-by', 'specification']),
    askedAt: Instant.nullable(),
    why: z.string(),
    needBy: PlainDate.nullable(),
    specification: SpecificationView.nullable(),
    specificationHash: z.string().nullable(),
    differences: z.array(difference),
    signedBy: z.string().nullable(),
    signedAt: Instant.nullable(),
  })
  .meta({ id: 'PendingChange' });
export type PendingChange = z.infer<typeof PendingChange>;

/** The last question after an order that its maker has not answered: `told` is null while it is on its way. */
export const OpenInquiry = z
  .object({
    number: z.string(),
    at: Instant,
    by: z.string(),
    /** How a person asked; null for one that was sent. */
    how: z.string().nullable(),
    told: z.boolean().nullable(),
    outcome: z.string().nullable(),
  })
  .meta({ id: 'OpenInquiry' });
export type OpenInquiry = z.infer<typeof OpenInquiry>;

export const OrderSummary = z
  .object({
    id: Id,
    number: z.string(),
    state: z.enum(orderStates),
    stateSince: Instant,
    version: Version,
    clinic: z.object({ id: Id, name: z.string(), timeZone: z.string() }),
    case: z.object({ id: Id, code: z.string(), codeName: z.string(), eye: z.enum(eyes) }),
    maker: z.object({
      id: Id,
      code: z.string(),
      name: z.string(),
      channel: Channel,
    }),
    designName: z.string(),
    specification: SpecificationView,
    specificationHash: z.string(),
    round: z.int(),
    isExchange: z.boolean(),
    /** The order that this smaller lens was ordered beside; null for an order of its own. */
    companionOf: z.object({ id: Id, number: z.string() }).nullable(),
    /** The order of the smaller lens beside this one. */
    companion: z
      .object({ id: Id, number: z.string(), lengthMm: z.number(), state: z.enum(orderStates) })
      .nullable(),
    openedAt: Instant,
    needBy: PlainDate.nullable(),
    /** The need-by date that the maker was told and has not refused; null before it was told any. */
    toldNeedBy: PlainDate.nullable(),
    change: PendingChange.nullable(),
    /** Null while the dispatch is telling the maker, and where nothing is asked of it. */
    telling: Telling.nullable(),
    inquiry: OpenInquiry.nullable(),
    promisedOn: PlainDate.nullable(),
    firstPromisedOn: PlainDate.nullable(),
    quotedWorkingDays: z.int(),
    sentAt: Instant.nullable(),
    acknowledgedAt: Instant.nullable(),
    shippedAt: Instant.nullable(),
    arrivedAt: Instant.nullable(),
    expectedOn: PlainDate.nullable(),
    tracking: z.string().nullable(),
    note: z.string().nullable(),
    /** Past its promise, or past the quoted time without one. */
    late: z.boolean(),
    forecast: ArrivalForecast.nullable(),
    price: Amount,
    currency: z.string(),
    /** The steps that the person who asks can take now. */
    steps: z.array(z.enum(orderEvents)),
  })
  .meta({ id: 'OrderSummary' });
export type OrderSummary = z.infer<typeof OrderSummary>;

export const HistoryEntry = z
  .object({
    seq: z.int(),
    at: Instant,
    actorName: z.string(),
    actorKind: z.string(),
    action: z.string(),
    facts: z.record(z.string(), z.unknown()),
    why: z.string().nullable(),
  })
  .meta({ id: 'HistoryEntry' });
export type HistoryEntry = z.infer<typeof HistoryEntry>;

export const OrderDetail = OrderSummary.extend({
  /** What differs from the specification that was last put before a surgeon. */
  differencesSinceSubmission: z.array(difference),
  /** What differs from the case's previous signed specification in an exchange. */
  differencesFromReplaced: z.array(difference),
  signatures: z.array(
    z.object({
      signerName: z.string(),
      meaning: z.string(),
      signedAt: Instant,
      specificationHash: z.string(),
      voidedAt: Instant.nullable(),
      voidedWhy: z.string().nullable(),
      reasons: z.record(z.string(), z.string()),
    }),
  ),
  deliveries: z.array(
    z.object({ attempt: z.int(), at: Instant, status: z.int().nullable(), outcome: z.string() }),
  ),
  announcedUnit: z
    .object({
      serial: z.string(),
      lot: z.string().nullable(),
      expiresOn: z.string(),
      gtin: z.string().nullable(),
    })
    .nullable(),
  /** Findings of the plan that are stops: going on over one asks for a reason. */
  stops: z.array(
    z.object({
      code: z.string(),
      message: z.string(),
      facts: z.record(z.string(), z.union([z.string(), z.number()])).optional(),
    }),
  ),
  history: z.array(HistoryEntry),
}).meta({ id: 'OrderDetail' });
export type OrderDetail = z.infer<typeof OrderDetail>;

export const OrderPage = pageOf(OrderSummary, 'OrderPage');

/** A step that needs nothing but the version that the person saw. */
export const PlainStep = z.strictObject({ version: Version }).meta({ id: 'PlainStep' });
/** A step that needs a reason. */
export const ReasonedStep = z.strictObject({ version: Version, why: Sentence }).meta({ id: 'ReasonedStep' });
export type ReasonedStep = z.infer<typeof ReasonedStep>;

/** The surgeon's signature: the hash of what was shown, the password once more, reasons for every stop. */
export const SignOrder = z
  .strictObject({
    version: Version,
    specificationHash: z.string().regex(/^[0-9a-f]{64}$/),
    password: z.string().min(1).max(200),
    reasons: z.record(z.string(), Sentence).default({}),
  })
  .meta({ id: 'SignOrder' });
export type SignOrder = z.infer<typeof SignOrder>;

/** A maker's answer that came by telephone or mail, entered by hand. */
export const AcknowledgeOrder = z
  .strictObject({ version: Version, promisedOn: PlainDate })
  .meta({ id: 'AcknowledgeOrder' });
export const PromiseOrder = z
  .strictObject({ version: Version, promisedOn: PlainDate, why: Sentence })
  .meta({ id: 'PromiseOrder' });
/** A maker's consent to a change, entered by hand; without a date its promise stays as it was. */
export const AcceptChange = z
  .strictObject({ version: Version, promisedOn: PlainDate.optional() })
  .meta({ id: 'AcceptChange' });
/**
 * Asks the makers of these orders when the lenses will come: by message, one for each clinic and maker, or with `how`,
 * which says how a person has asked already.
 */
export const AskMakers = z
  .strictObject({
    orders: z
      .array(z.strictObject({ id: Id, version: Version }))
      .min(1)
      .max(100),
    how: Sentence.optional(),
  })
  .meta({ id: 'AskMakers' });
export type AskMakers = z.infer<typeof AskMakers>;
/** What was asked: one question for each clinic and maker. */
export const AskedMakers = z
  .object({
    id: z.string(),
    inquiries: z.array(z.object({ number: z.string(), maker: z.string(), orders: z.int() })),
  })
  .meta({ id: 'AskedMakers' });
export type AskedMakers = z.infer<typeof AskedMakers>;
export const ShipOrder = z
  .strictObject({ version: Version, tracking: ShortText, expectedOn: PlainDate })
  .meta({ id: 'ShipOrder' });
