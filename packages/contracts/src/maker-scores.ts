import { z } from 'zod';
import { Id, PlainDate } from './common.js';
import { Share } from './outcomes.js';

const list = <T extends z.ZodType>(item: T) => z.array(item).readonly();

const funnelPoint = z
  .object({
    share: Share.nullable(),
    /** Where 95 and 99.8 of 100 makers of this size would lie if all were alike; null without orders. */
    limits95: z.tuple([z.number(), z.number()]).nullable(),
    limits998: z.tuple([z.number(), z.number()]).nullable(),
    standing: z.enum(['within', 'outside-95', 'outside-998', 'too-few']),
  })
  .meta({ id: 'FunnelPoint' });
export type FunnelPoint = z.infer<typeof funnelPoint>;
/** How a maker has kept its word, beside what makers of its size would show by chance. */
export const MakerScorecard = z
  .object({
    id: Id,
    name: z.string(),
    sent: z.int(),
    arrived: z.int(),
    leadDays: z.object({ p10: z.int().nullable(), p50: z.int().nullable(), p90: z.int().nullable() }),
    promiseKept: funnelPoint,
    labelMismatch: funnelPoint,
    exchanged: funnelPoint,
    exchangeReasons: list(z.object({ reason: z.string(), n: z.int() })),
    creditsOutstanding: list(z.object({ currency: z.string(), amount: z.string(), n: z.int() })),
  })
  .meta({ id: 'MakerScorecard' });
export type MakerScorecard = z.infer<typeof MakerScorecard>;
export const MakerScorecards = z
  .object({
    items: list(MakerScorecard),
    /** The days on which the first and the latest of these orders were sent; null without any. */
    sentFrom: PlainDate.nullable(),
    sentTo: PlainDate.nullable(),
    overall: z.object({
      promiseKept: Share.nullable(),
      labelMismatch: Share.nullable(),
      exchanged: Share.nullable(),
    }),
  })
  .meta({ id: 'MakerScorecards' });
export type MakerScorecards = z.infer<typeof MakerScorecards>;
