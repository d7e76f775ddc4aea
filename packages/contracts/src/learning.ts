import { eyes } from '@lensferry/domain';
import { z } from 'zod';
import { Id, PlainDate } from './common.js';
import { Estimate, Share } from './outcomes.js';

const list = <T extends z.ZodType>(item: T) => z.array(item).readonly();

export const VaultPoint = z
  .object({
    caseId: Id,
    caseCode: z.string(),
    eye: z.enum(eyes),
    clinic: z.string(),
    lengthMm: z.number(),
    measuredUm: z.number(),
    predictedUm: z.number(),
    lowUm: z.number(),
    highUm: z.number(),
    startUm: z.number(),
  })
  .meta({ id: 'VaultPoint' });
export type VaultPoint = z.infer<typeof VaultPoint>;

/** What the vaults of one design have taught, against the model on its sheet. */
export const VaultLearning = z
  .object({
    designCode: z.string(),
    designName: z.string(),
    makerName: z.string(),
    /** What learning begins from: the model that came with the sheet, also after a learned one was signed. */
    model: z.object({
      id: z.string(),
      version: z.string(),
      source: z.string(),
      device: z.string(),
      residualSdUm: z.number(),
    }),
    n: z.int(),
    /** Eyes that lack a measurement the model needs, or a vault from day 28 on. */
    leftOut: z.int(),
    /** Days from surgery to the vaults that count; null without any. */
    afterDays: z.object({ median: z.number(), min: z.int() }).nullable(),
    coefficients: list(
      z.object({
        of: z.string(),
        clinic: z.string().nullable(),
        startUm: z.number(),
        /** By the model that sizes are suggested by now; null of a clinic, which it knows nothing of. */
        usedUm: z.number().nullable(),
        nowUm: z.number(),
        sdUm: z.number(),
      }),
    ),
    /** The same learned with what other clinics give, as sums only; null where they are too few to stay unseen. */
    pooled: z
      .object({
        clinics: z.int(),
        eyes: z.int(),
        asOf: PlainDate,
        coefficients: list(
          z.object({ of: z.string(), clinic: z.string().nullable(), nowUm: z.number(), sdUm: z.number() }),
        ),
      })
      .nullable(),
    /** Each eye predicted from all others, with the limits that 8 in 10 fall within; null below two eyes. */
    leaveOneOut: z
      .object({
        points: list(VaultPoint),
        learnedErrorUm: z.number(),
        startErrorUm: z.number(),
        coverage: list(Share.extend({ level: z.number() })),
      })
      .nullable(),
    /** Each eye predicted from those before it. */
    prequential: z
      .object({
        learnedErrorUm: z.number(),
        startErrorUm: z.number(),
        coverage: list(Share.extend({ level: z.number() })),
      })
      .nullable(),
  })
  .meta({ id: 'VaultLearning' });
export type VaultLearning = z.infer<typeof VaultLearning>;
export const VaultLearnings = z
  .object({ items: list(VaultLearning), note: z.string() })
  .meta({ id: 'VaultLearnings' });
export type VaultLearnings = z.infer<typeof VaultLearnings>;

const offset = z.object({ estimateD: z.number(), lowD: z.number(), highD: z.number() });
/** What achieved refraction differs from predicted by, part by part. Shown and offered, applied nowhere. */
export const RefractionOffsets = z
  .object({
    n: z.int(),
    rows: list(
      z.object({
        of: z.enum(['all', 'device', 'clinic', 'axisClass', 'place']),
        name: z.string(),
        n: z.int(),
        mean: offset,
        j0: offset,
        j45: offset,
        beyondDoubt: z.boolean(),
      }),
    ),
    note: z.string(),
  })
  .meta({ id: 'RefractionOffsets' });
export type RefractionOffsets = z.infer<typeof RefractionOffsets>;

/** What a pooled estimate is of. `median` is in working days, to the week, with the days by which 10 and 90 % had come. */
export const pooledMeasures = [
  'withinHalfD',
  'withinOneD',
  'lostALine',
  'meanErrorD',
  'offsetD',
  'promiseKept',
  'medianDays',
] as const;

/** Own clinics' estimates beside those of all other clinics together: of these nothing but sums is ever read. */
export const PooledOutcomes = z
  .object({
    rows: list(
      z.object({
        measure: z.enum(pooledMeasures),
        /** A maker; null for all eyes. */
        of: z.string().nullable(),
        own: Estimate.nullable(),
        others: Estimate.extend({ clinics: z.int(), asOf: PlainDate }).nullable(),
      }),
    ),
    note: z.string(),
  })
  .meta({ id: 'PooledOutcomes' });
export type PooledOutcomes = z.infer<typeof PooledOutcomes>;
