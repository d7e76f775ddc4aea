import { z } from 'zod';
import { Id, Instant, PlainDate, ShortText } from './common.js';
import { Share } from './outcomes.js';

const list = <T extends z.ZodType>(item: T) => z.array(item).readonly();

/** How a model did: root mean square of measured less predicted, and how many vaults its limits held. */
const Performance = z
  .object({ errorUm: z.number(), coverage: list(Share.extend({ level: z.number() })) })
  .meta({ id: 'ModelPerformance' });

const atLength = z.object({ vaultUm: z.number(), lowUm: z.number(), highUm: z.number() });

/** What was known of a proposed model when it was proposed; kept with it as it stood. */
export const ModelCheck = z
  .object({
    eyes: z.int(),
    /** The day of the newest vault in it. */
    upTo: PlainDate,
    /** Learned: each eye predicted from those before it. Former: the model as it stands. */
    how: z.enum(['prequential', 'as-it-stands']),
    /** The model in use, as it stands. */
    before: Performance,
    after: Performance,
    /** An average eye at each length of the design, with the limits that 8 in 10 fall within. */
    lengths: list(z.object({ lengthMm: z.number(), before: atLength, after: atLength })),
  })
  .meta({ id: 'ModelCheck' });
export type ModelCheck = z.infer<typeof ModelCheck>;

const named = z.object({ id: z.string(), version: z.string(), source: z.string(), residualSdUm: z.number() });

export const ModelProposal = z
  .object({
    id: Id,
    kind: z.enum(['learned', 'former']),
    basedOn: z.int(),
    model: named,
    check: ModelCheck,
    why: z.string(),
    proposedBy: z.string(),
    proposedAt: Instant,
  })
  .meta({ id: 'ModelProposal' });
export type ModelProposal = z.infer<typeof ModelProposal>;

/** The vault models of one design: what is in use, what is proposed, and what was. */
export const DesignModels = z
  .object({
    designCode: z.string(),
    designName: z.string(),
    makerName: z.string(),
    /** The newest version of the design. */
    version: z.int(),
    inUse: named,
    open: ModelProposal.nullable(),
    /** Whether an earlier version went by another model, so that it can be proposed again. */
    hasFormer: z.boolean(),
    /** Newest first. Versions that came with a sheet have nobody who signed. */
    history: list(
      z.object({
        version: z.int(),
        validFrom: PlainDate,
        model: named.nullable(),
        signed: z.object({ by: z.string(), at: Instant, proposedBy: z.string(), why: z.string() }).nullable(),
      }),
    ),
  })
  .meta({ id: 'DesignModels' });
export type DesignModels = z.infer<typeof DesignModels>;
export const VaultModels = z.object({ items: list(DesignModels) }).meta({ id: 'VaultModels' });
export type VaultModels = z.infer<typeof VaultModels>;

export const ProposeModel = z
  .strictObject({
    designCode: z.string().max(40),
    kind: z.enum(['learned', 'former']),
    /** The version of the design that was on screen. */
    version: z.int().positive(),
    why: ShortText,
  })
  .meta({ id: 'ProposeModel' });
export type ProposeModel = z.infer<typeof ProposeModel>;

export const SignModel = z.strictObject({ password: z.string().min(1).max(200) }).meta({ id: 'SignModel' });
export type SignModel = z.infer<typeof SignModel>;
