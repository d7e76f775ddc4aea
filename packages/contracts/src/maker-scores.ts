import { z } from 'zod';
import { Id, PlainDate } from './common.js';
import { ArrivalCurve } from './designs.js';
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
/** The working days that orders took, and the forecast for an order of the kind that was sent most, placed today. */
const LeadTimes = z
  .object({
    curve: ArrivalCurve,
    forecast: z.object({
      quotedWorkingDays: z.int(),
      /** Share of orders that come at all which will have come by the end of each working day. */
      points: list(z.object({ day: z.int(), arrived: z.number() })),
    }),
  })
  .meta({ id: 'MakerLeadCurve' });
/** How a maker has kept its word, beside what makers of its size would show by chance. */
export const MakerScorecard = z
  .object({
    id: Id,
    name: z.string(),
    sent: z.int(),
    arrived: z.int(),
    /** The days on which the first and the latest of its orders were sent; null without any. */
    sentFrom: PlainDate.nullable(),
    sentTo: PlainDate.nullable(),
    /** How long its orders took, and what is forecast for the next one; null without any order. */
    leadTimes: LeadTimes.nullable(),
    promiseKept: funnelPoint,
    labelMismatch: funnelPoint,
    exchanged: funnelPoint,
    /** Of the lenses that were implanted, those exchanged for each reason. */
    exchangeReasons: list(z.object({ reason: z.string(), share: Share })),
    /** Credits for lenses that the maker has or that are on their way to it, with the days since the oldest return was opened. */
    creditsOutstanding: list(
      z.object({ currency: z.string(), amount: z.string(), n: z.int(), oldestDays: z.int() }),
    ),
  })
  .meta({ id: 'MakerScorecard' });
export type MakerScorecard = z.infer<typeof MakerScorecard>;
export const MakerScorecards = z
  .object({
    items: list(MakerScorecard),
    /** The days on which the first and the latest order of them all were sent; null without any. */
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
