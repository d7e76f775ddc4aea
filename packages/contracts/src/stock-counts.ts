import { countDifferences, countExplanations, countStates, lensStates } from '@lensferry/domain';
import { z } from 'zod';
import { Id, Instant, Sentence, ShortText, Version } from './common.js';

const explanations = [...new Set(Object.values(countExplanations).flat())] as [string, ...string[]];

/** One thing that a count finds amiss, and, once it is closed, what explained it. */
export const CountFinding = z
  .object({
    kind: z.enum(countDifferences),
    serial: z.string(),
    lensId: Id.nullable(),
    /** How the record has it; null for a serial that is not on record here. */
    state: z.enum(lensStates).nullable(),
    location: z.string().nullable(),
    codeName: z.string().nullable(),
    explanation: z.string().nullable(),
    why: z.string().nullable(),
  })
  .meta({ id: 'CountFinding' });
export type CountFinding = z.infer<typeof CountFinding>;

export const StockCount = z
  .object({
    id: Id,
    clinic: z.object({ id: Id, name: z.string() }),
    location: z.string(),
    state: z.enum(countStates),
    openedAt: Instant,
    openedBy: z.string(),
    endedAt: Instant.nullable(),
    endedBy: z.string().nullable(),
    expected: z.int(),
    found: z.int(),
    read: z.int(),
    version: Version,
  })
  .meta({ id: 'StockCount' });
export type StockCount = z.infer<typeof StockCount>;

/** A count with what it finds amiss so far, or found. */
export const StockCountDetail = StockCount.extend({ findings: z.array(CountFinding) }).meta({
  id: 'StockCountDetail',
});
export type StockCountDetail = z.infer<typeof StockCountDetail>;

/** Counts that are open and the last twenty that ended; and the places where something stands. */
export const StockCounts = z
  .object({
    items: z.array(StockCount),
    places: z.array(z.object({ clinicId: Id, clinicName: z.string(), location: z.string(), units: z.int() })),
  })
  .meta({ id: 'StockCounts' });
export type StockCounts = z.infer<typeof StockCounts>;

export const StartCount = z.strictObject({ clinicId: Id, location: ShortText }).meta({ id: 'StartCount' });
export type StartCount = z.infer<typeof StartCount>;

/** A pack in the hand: its code as scanned, or its serial as typed. */
export const ReadForCount = z
  .strictObject({ text: z.string().trim().min(1).max(400) })
  .meta({ id: 'ReadForCount' });
export type ReadForCount = z.infer<typeof ReadForCount>;

/** What reading a pack told: whether it stands here by the record, and how often it was read before. */
export const CountRead = z
  .object({
    id: Id,
    serial: z.string(),
    verdict: z.enum(['here', 'again', ...countDifferences]),
    count: StockCountDetail,
  })
  .meta({ id: 'CountRead' });
export type CountRead = z.infer<typeof CountRead>;

/** Closes a count: each difference with what explains it and why; a place where it now stands where it was found there. */
export const CloseCount = z
  .strictObject({
    version: Version,
    explanations: z
      .array(
        z.strictObject({
          serial: ShortText,
          explanation: z.enum(explanations),
          location: ShortText.optional(),
          why: Sentence,
        }),
      )
      .max(500),
  })
  .meta({ id: 'CloseCount' });
export type CloseCount = z.infer<typeof CloseCount>;
