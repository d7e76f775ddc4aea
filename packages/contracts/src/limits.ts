import { limitKeys, limits, type LimitKey } from '@lensferry/domain';
import { z } from 'zod';
import { Instant } from './common.js';

/** How a limit was last set. */
export const LimitChange = z
  .object({ before: z.number(), at: Instant, by: z.string(), why: z.string() })
  .meta({ id: 'LimitChange' });
export type LimitChange = z.infer<typeof LimitChange>;

/** One limit as it stands; what is usual and possible is in the domain's table of that name. */
export const LimitNow = z
  .object({
    key: z.enum(limitKeys as [LimitKey, ...LimitKey[]]),
    value: z.number(),
    changed: LimitChange.nullable().describe('Null while it is as usual.'),
  })
  .meta({ id: 'LimitNow' });
export type LimitNow = z.infer<typeof LimitNow>;

export const NetworkLimits = z.object({ items: z.array(LimitNow) }).meta({ id: 'NetworkLimits' });
export type NetworkLimits = z.infer<typeof NetworkLimits>;

/** A limit's new value, signed; `was` is what one saw. */
export const SetLimit = z
  .strictObject({
    key: z.enum(limitKeys as [LimitKey, ...LimitKey[]]),
    was: z.number(),
    value: z.number(),
    why: z.string().trim().min(3).max(500),
    password: z.string().min(1).max(200),
  })
  .superRefine(({ key, value }, context) => {
    const { least, most } = limits[key];
    const whole = 'whole' in limits[key];
    const issue = { origin: 'number' as const, inclusive: true, path: ['value'], input: value };
    if (value < least) context.addIssue({ ...issue, code: 'too_small', minimum: least });
    else if (value > most) context.addIssue({ ...issue, code: 'too_big', maximum: most });
    else if (whole && !Number.isInteger(value))
      context.addIssue({ code: 'custom', path: ['value'], message: 'Give a whole number.' });
  })
  .meta({ id: 'SetLimit' });
export type SetLimit = z.infer<typeof SetLimit>;
