import { z } from 'zod';
import { Amount, Id, PlainDate } from './common.js';

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
    channel: z.enum(['https', 'by_hand']),
    timeZone: z.string(),
    currency: z.string(),
    returnWindowDays: z.int(),
    contact: z.string(),
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
