import { z } from 'zod';
import { Amount, Channel, Id, PlainDate, ShortText, Version } from './common.js';

const range = z.strictObject({ minD: z.number(), maxD: z.number(), stepD: z.number().positive() });

/** A linear vault model of one design and one measuring device; see the calculation package. */
export const VaultModelSheet = z
  .looseObject({ id: z.string(), version: z.string(), source: z.string(), residualSdUm: z.number() })
  .meta({ id: 'VaultModel' });

/** What a maker can make of one design, as one version of its sheet. */
export const DesignSheet = z
  .strictObject({
    sphere: range,
    cylinder: range,
    axis: z.discriminatedUnion('policy', [
      z.strictObject({ policy: z.literal('any'), stepDeg: z.number().positive() }),
      z.strictObject({
        policy: z.literal('fixed'),
        axesDeg: z.array(z.number()).min(1),
        maximumTurnDeg: z.number().positive(),
      }),
    ]),
    lengthsMm: z.array(z.number()).min(1),
    /** The lens plane lies this far in front of the crystalline lens. */
    lensPlaneOffsetMm: z.number().min(0).max(2),
    /** Cylinders from here on count as high and take longer. */
    highCylinderFromD: z.number(),
    quotedWorkingDays: z.strictObject({ stocked: z.int(), made: z.int(), high: z.int() }),
    /** Combinations kept on the shelf: sphere and cylinder within these, null when everything is made to order. */
    stocked: z
      .strictObject({ sphereMinD: z.number(), sphereMaxD: z.number(), cylinderMinD: z.number() })
      .nullable(),
    price: z.strictObject({ base: Amount, highCylinder: Amount }),
    vaultModel: VaultModelSheet.nullable(),
    gtin: z.string().nullable(),
  })
  .meta({ id: 'DesignSheet' });
export type DesignSheet = z.infer<typeof DesignSheet>;

export const DesignVersionSummary = z
  .object({
    id: Id,
    code: z.string(),
    name: z.string(),
    version: z.int(),
    validFrom: PlainDate,
    sheet: DesignSheet,
  })
  .meta({ id: 'DesignVersionSummary' });
export type DesignVersionSummary = z.infer<typeof DesignVersionSummary>;

export const MakerSummary = z
  .object({
    id: Id,
    code: z.string(),
    name: z.string(),
    channel: Channel,
    timeZone: z.string(),
    currency: z.string(),
    returnWindowDays: z.int(),
    contact: z.string(),
    cutOff: z.string().nullable(),
    terms: z.string().nullable(),
    holidays: z.array(PlainDate),
    address: z.string().nullable(),
    website: z.string().nullable(),
    endpoint: z.string().nullable(),
    orderEmail: z.string().nullable(),
    sendsPerMinute: z.int(),
    /** Whether messages can be signed and proven; the secret itself is never told. */
    hasSecret: z.boolean(),
    version: Version,
    designs: z.array(DesignVersionSummary),
    /** From all orders of the network's own clinics that the person may see. */
    openOrders: z.int(),
    lateOrders: z.int(),
    arrived: z.int(),
    medianWorkingDays: z.number().nullable(),
    promisesKept: z.object({ kept: z.int(), of: z.int() }),
  })
  .meta({ id: 'MakerSummary' });
export type MakerSummary = z.infer<typeof MakerSummary>;

/** What an administrator may change of a maker; orders keep the currency and terms that they were made under. */
export const EditMaker = z
  .strictObject({
    version: Version,
    contact: ShortText,
    currency: z.string().regex(/^[A-Z]{3}$/, 'Write three capital letters, such as EUR.'),
    returnWindowDays: z.int().min(0).max(730),
    timeZone: z.string().max(60),
    cutOff: z
      .string()
      .regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'Write the hour as 16:00.')
      .nullable(),
    holidays: z.array(PlainDate).max(500),
    terms: z.string().trim().max(4000).nullable(),
    /** As implant cards and statements print them; left as they are when left out. */
    address: z.string().trim().max(400).nullable().optional(),
    website: z.string().trim().max(200).nullable().optional(),
  })
  .meta({ id: 'EditMaker' });
export type EditMaker = z.infer<typeof EditMaker>;

/** A share with its 95 % Wilson limits, all 0 to 1, and the numbers that it rests on. */
export const CountedShare = z
  .object({ count: z.number(), of: z.int(), share: z.number(), low: z.number(), high: z.number() })
  .meta({ id: 'CountedShare' });
export type CountedShare = z.infer<typeof CountedShare>;

/** The share of orders that have come by each working day since sending (product-limit, log-log limits). */
export const ArrivalCurve = z
  .object({
    orders: z.int(),
    arrivals: z.int(),
    open: z.int(),
    cancelled: z.int(),
    medianDays: z.int().nullable(),
    ninetyPercentDays: z.int().nullable(),
    /** Mean working days awaited within the days observed. */
    restrictedMeanDays: z.number(),
    lastDay: z.int(),
    steps: z.array(
      z.object({ day: z.int(), atRisk: z.int(), arrived: z.number(), low: z.number(), high: z.number() }),
    ),
  })
  .meta({ id: 'ArrivalCurve' });
export type ArrivalCurve = z.infer<typeof ArrivalCurve>;

/** How a maker delivers, from the orders of the clinics that the person may see. */
export const MakerLeadTimes = z
  .object({
    makerId: Id,
    makerName: z.string(),
    /** Null before the first order was sent. */
    all: ArrivalCurve.nullable(),
    /** One for each time that the maker quotes: from the shelf, made, made with a high cylinder. */
    classes: z.array(
      z.object({ quotedWorkingDays: z.int(), designs: z.array(z.string()), curve: ArrivalCurve }),
    ),
    /** First promises that were kept, of the lenses that came. Null, as below, when there is nothing to count. */
    promisesKept: CountedShare.nullable(),
    /** Orders that the maker declined, of those that were sent and have ended. */
    declined: CountedShare.nullable(),
    /** Lenses taken out of an eye again, of those that were implanted. */
    exchanged: CountedShare.nullable(),
    /** Lenses that went into quarantine at the receiving desk, of those that came. */
    quarantined: CountedShare.nullable(),
    /** Of the arrivals, those within the 90 % interval that was forecast when the order was sent. */
    calibration: CountedShare.extend({ level: z.number() }).nullable(),
    /** Log-rank test against the other makers; null when there is nothing to compare. */
    againstOthers: z.object({ chiSquare: z.number(), p: z.number(), otherOrders: z.int() }).nullable(),
  })
  .meta({ id: 'MakerLeadTimes' });
export type MakerLeadTimes = z.infer<typeof MakerLeadTimes>;
