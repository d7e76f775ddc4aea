import { z } from 'zod';
import { Id, Instant, PlainDate, SpheroCylinder } from './common.js';
import { ChosenOffset, UsedOffset } from './offsets.js';

/** Ten, fifty and ninety of a hundred lie below these. */
export const Spread = z.object({ p10: z.number(), p50: z.number(), p90: z.number() }).meta({ id: 'Spread' });

export const Finding = z
  .object({
    code: z.string(),
    level: z.enum(['fine', 'caution', 'stop']),
    message: z.string(),
    /** Which sentence this is (`say`) and the values in it, for a screen of another language; absent in older plans. */
    facts: z.record(z.string(), z.union([z.string(), z.number()])).optional(),
    /** Where the threshold comes from. */
    source: z.string(),
  })
  .meta({ id: 'Finding' });
export type Finding = z.infer<typeof Finding>;

/**
 * When a lens would come if it were ordered today, by the maker's and the clinic's calendars: ten, fifty and ninety of
 * a hundred come by these days. The last day to order and the first theatre date hold with a chance of 95 %.
 */
export const OfferDates = z
  .object({
    sentOn: PlainDate,
    p10: PlainDate,
    p50: PlainDate,
    p90: PlainDate,
    /** How many earlier orders the forecast rests on. */
    basedOn: z.int(),
    theatreOn: PlainDate.nullable(),
    /** The last day to send the order for the theatre date; null without a theatre date. */
    orderBy: PlainDate.nullable(),
    /** That day has passed. */
    tooLate: z.boolean(),
    /** Chance, 0 to 1, that the lens is there for the theatre date; null without one. */
    chanceForTheatre: z.number().nullable(),
    earliestTheatreOn: PlainDate,
    /** The maker's hour from which an order counts from its next working day; left out of earlier plans. */
    cutOff: z.object({ at: z.string(), timeZone: z.string() }).nullish(),
  })
  .meta({ id: 'OfferDates' });
export type OfferDates = z.infer<typeof OfferDates>;

/** A lens that a maker can make, with the refraction it would leave. */
export const LensOption = z
  .object({
    designVersionId: Id,
    makerName: z.string(),
    designName: z.string(),
    sphereD: z.number(),
    cylinderD: z.number(),
    axisDeg: z.number().nullable(),
    /** For a design made to a fixed axis: the turn to make in the eye, degrees, counter-clockwise positive. */
    turnDeg: z.number(),
    predicted: SpheroCylinder,
    blurD: z.number(),
    withinHalfD: z.number(),
    withinOneD: z.number(),
    sphericalEquivalentD: Spread,
    cylinderLeftD: Spread,
    quotedWorkingDays: z.int(),
    madeToOrder: z.boolean(),
    price: z.string(),
    currency: z.string(),
    /** Left out of plans that were kept before dates were computed. */
    dates: OfferDates.nullish(),
  })
  .meta({ id: 'LensOption' });
export type LensOption = z.infer<typeof LensOption>;

/** Who can make the lens that an eye needs: the best lens of each design, its price, and by when with what chance. */
export const MakerOffer = LensOption.pick({
  designVersionId: true,
  makerName: true,
  designName: true,
  sphereD: true,
  cylinderD: true,
  axisDeg: true,
  blurD: true,
  quotedWorkingDays: true,
  madeToOrder: true,
  price: true,
  currency: true,
})
  .extend({ makerId: Id, dates: OfferDates })
  .meta({ id: 'MakerOffer' });
export type MakerOffer = z.infer<typeof MakerOffer>;

/** Why a design can't make the lens that an eye needs: a stable code, one sentence, and the numbers in it. */
export const WhyUnable = z
  .object({
    code: z.enum([
      'sphere-out-of-range',
      'cylinder-out-of-range',
      'turn-too-far',
      'combination-not-made',
      'flips-axis',
      'length-not-made',
      'sheet-not-valid-yet',
      'no-sheet',
      'not-computable',
    ]),
    message: z.string(),
    facts: z.record(z.string(), z.union([z.string(), z.number()])),
  })
  .meta({ id: 'WhyUnable' });
export type WhyUnable = z.infer<typeof WhyUnable>;

/** A design that can't make the lens that an eye needs, with every reason. */
export const UnableDesign = z
  .object({
    designVersionId: Id,
    makerName: z.string(),
    designName: z.string(),
    reasons: z.array(WhyUnable).min(1),
  })
  .meta({ id: 'UnableDesign' });
export type UnableDesign = z.infer<typeof UnableDesign>;

export const SizeOption = z
  .object({
    lengthMm: z.number(),
    vaultUm: Spread,
    low: z.number(),
    intended: z.number(),
    high: z.number(),
  })
  .meta({ id: 'SizeOption' });
export type SizeOption = z.infer<typeof SizeOption>;

/** The refraction aimed at, at the spectacle plane, in minus form; an axis stands with a cylinder and only with one. */
const target = z
  .strictObject({
    sphereD: z.number().min(-6).max(3),
    cylinderD: z.number().min(-6).max(0, 'Write the target in minus form: a cylinder of 0 or below.'),
    axisDeg: z.number().min(0).max(180).nullable(),
  })
  .refine(({ cylinderD, axisDeg }) => (cylinderD === 0) === (axisDeg === null), {
    path: ['axisDeg'],
    message: 'Give an axis with a cylinder, and none with a cylinder of 0.',
  });
const plano = { sphereD: 0, cylinderD: 0, axisDeg: null };

/** What a plan starts from. */
export const PlanRequest = z
  .strictObject({
    target: target.default(plano),
    withOffset: z
      .boolean()
      .default(false)
      .describe('Plan with the learned offset of refraction; for surgeons.'),
  })
  .meta({ id: 'PlanRequest' });
export type PlanRequest = z.infer<typeof PlanRequest>;

/** What a person chose from a plan; the API computes everything else again. */
export const PlanChoice = z
  .strictObject({
    target: target.default(plano),
    designVersionId: Id,
    sphereD: z.number().min(-40).max(40),
    cylinderD: z.number().min(-20).max(0),
    axisDeg: z.int().min(1).max(180).nullable(),
    lengthMm: z.number().min(8).max(16),
    /** The same lens in a smaller size, to be ordered beside it; none when left out. */
    companionLengthMm: z.number().min(8).max(16).optional(),
    /** Planned with the learned offset of refraction, by a surgeon and with a reason; without it when left out. */
    offset: ChosenOffset.optional(),
  })
  .meta({ id: 'PlanChoice' });
export type PlanChoice = z.infer<typeof PlanChoice>;

/** The numbers taken from the measurements, each with the measurement it came from. */
export const PlanInput = z
  .object({
    measurementIds: z.array(Id),
    refraction: SpheroCylinder.extend({ vertexMm: z.number() }),
    keratometry: z.object({
      flatD: z.number(),
      steepD: z.number(),
      steepAxisDeg: z.number(),
      index: z.number().nullable(),
    }),
    depthFromEndotheliumMm: z.number(),
    cornealThicknessUm: z.number(),
    kmaxD: z.number().nullable(),
    coneDistanceMm: z.number().nullable(),
    coneDirectionDeg: z.number().nullable(),
    whiteToWhiteMm: z.number().nullable(),
    sulcusMm: z.number().nullable(),
    verticalSulcusMm: z.number().nullable(),
    angleToAngleMm: z.number().nullable(),
    lensRiseUm: z.number().nullable(),
    lensThicknessMm: z.number().nullable(),
  })
  .meta({ id: 'PlanInput' });
export type PlanInput = z.infer<typeof PlanInput>;

/** The network's own figures for a smaller lens beside the chosen one; amounts in the maker's currency. */
export const CompanionSettings = z
  .object({
    fromChance: z.number(),
    restockingShare: z.number(),
    explantedCreditShare: z.number(),
    secondOperation: z.number(),
    waitingPerDay: z.number(),
    seenInTheatreShare: z.number(),
  })
  .meta({ id: 'CompanionSettings' });
export type CompanionSettings = z.infer<typeof CompanionSettings>;

/** What is computed for a case: the lens the eye needs, what can be made, and what each size would do. */
export const PlanResult = z
  .object({
    input: PlanInput,
    target: SpheroCylinder,
    idealLens: SpheroCylinder,
    /** The learned offset that everything here was planned with; null or left out: none. */
    offset: UsedOffset.nullish(),
    options: z.array(LensOption),
    /** Designs that can't make it, and why; left out of plans that were kept before reasons were. */
    unable: z.array(UnableDesign).nullish(),
    /** Sizes with the vault each would give, for each design that could be chosen. */
    sizing: z.array(
      z.object({
        designVersionId: Id,
        basis: z.string(),
        sizes: z.array(SizeOption),
        suggestedLengthMm: z.number(),
        reasons: z.array(z.string()),
      }),
    ),
    /** What a smaller lens beside the chosen one is judged by; left out of earlier plans and in an exchange. */
    companion: CompanionSettings.nullish(),
    findings: z.array(Finding),
    cautions: z.array(z.string()),
  })
  .meta({ id: 'PlanResult' });
export type PlanResult = z.infer<typeof PlanResult>;

/** A plan on record. */
export const PlanRecord = z
  .object({
    id: Id,
    number: z.int(),
    round: z.int(),
    madeAt: Instant,
    madeBy: z.string(),
    choice: PlanChoice.extend({ target }).meta({ id: 'PlanChosen' }),
    result: PlanResult,
    /** The chosen lens as the plan judged it. */
    chosen: LensOption,
    chosenSize: SizeOption.nullable(),
  })
  .meta({ id: 'PlanRecord' });
export type PlanRecord = z.infer<typeof PlanRecord>;
