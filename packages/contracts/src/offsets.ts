import { z } from 'zod';
import { Sentence, SpheroCylinder } from './common.js';

const limits = z.object({ estimateD: z.number(), lowD: z.number(), highD: z.number() });

/**
 * What refractions of eyes of the same device, clinic and class of axis came out away from their plans, as a power
 * vector with 95 % limits, for a surgeon to take or leave.
 */
export const OfferedOffset = z
  .object({
    device: z.string(),
    clinic: z.string(),
    axisClass: z.enum(['with', 'against', 'oblique']),
    /** Eyes of this device, this clinic and this class behind it, and of any. */
    n: z.int(),
    eyes: z.int(),
    mean: limits,
    j0: limits,
    j45: limits,
    /** 0 lies outside the limits of at least one part. */
    beyondDoubt: z.boolean(),
    /** The refraction that would be planned from, instead of the measured one. */
    refraction: SpheroCylinder,
    /** Enough eyes of this place are behind it to plan with it. */
    usable: z.boolean(),
  })
  .meta({ id: 'OfferedOffset' });
export type OfferedOffset = z.infer<typeof OfferedOffset>;

/** What was learned for a case, if anything; looking at it changes nothing. */
export const OffsetOffer = z
  .object({ offer: OfferedOffset.nullable(), leastEyes: z.int() })
  .meta({ id: 'OffsetOffer' });
export type OffsetOffer = z.infer<typeof OffsetOffer>;

/** The offset that a plan was made with, and what the optics alone say of the chosen lens; that goes on being learned from. */
export const UsedOffset = OfferedOffset.extend({ byOptics: SpheroCylinder.nullish() }).meta({
  id: 'UsedOffset',
});
export type UsedOffset = z.infer<typeof UsedOffset>;

/** A surgeon's choice to plan with an offset, as it was shown, and why. */
export const ChosenOffset = z
  .strictObject({
    meanD: z.number().min(-2).max(2),
    j0D: z.number().min(-2).max(2),
    j45D: z.number().min(-2).max(2),
    why: Sentence,
  })
  .meta({ id: 'ChosenOffset' });
export type ChosenOffset = z.infer<typeof ChosenOffset>;
