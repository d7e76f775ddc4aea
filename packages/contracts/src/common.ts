import { z } from 'zod';

/** An identifier of ours. */
export const Id = z.uuid().meta({ id: 'Id' });
/** A plain date from 1900 to 2199, `2026-11-25`: a day at the clinic, not an instant. */
export const PlainDate = z.iso
  .date('Write a day that there is, such as 2026-11-25.')
  .regex(/^(19|20|21)/, 'Write a day from 1900 to 2199.')
  .meta({ id: 'PlainDate' });
/** An instant in UTC, ISO 8601. */
export const Instant = z.iso.datetime().meta({ id: 'Instant' });
/** A sentence that a person writes: a reason, a note. */
export const Sentence = z.string().trim().min(3, 'Write at least a few words.').max(1000);
/** A short name that a person writes. */
export const ShortText = z.string().trim().min(1, 'Write something here.').max(120);
/** The version of a thing as the person saw it; a step is refused when it has moved on since. */
export const Version = z.int().min(1);
/** Money as a decimal string with two places, such as `1240.00`. */
export const Amount = z.string().regex(/^\d{1,10}\.\d{2}$/, 'Write an amount such as 1240.00.');
/** How documents reach a maker: a signed message, an e-mail, or a person's own hands. */
export const channels = ['https', 'email', 'by_hand'] as const;
export const Channel = z.enum(channels);

/** A page of a list. */
export const ListQuery = z
  .strictObject({
    cursor: z
      .string()
      .max(400)
      .optional()
      .describe('`next` or `previous` of the page before; without it, the first page.'),
    perPage: z.coerce.number().int().min(1).max(200).default(25),
    q: z.string().trim().max(80).optional(),
    state: z.string().max(300).optional().describe('One state, or several with commas between.'),
    clinicId: z.uuid().optional(),
    makerId: z.uuid().optional(),
    caseId: z.uuid().optional(),
    sort: z.enum(['recent', 'code', 'due']).default('recent'),
  })
  .meta({ id: 'ListQuery' });
export type ListQuery = z.infer<typeof ListQuery>;

/** What is counted of a list at most: a longer one is said to hold more than this. */
export const COUNTED_AT_MOST = 1000;

/** A page of items: how many match (counted up to `COUNTED_AT_MOST`) and where the pages beside it begin. */
export function pageOf<T extends z.ZodType>(item: T, id: string) {
  return z
    .object({
      items: z.array(item),
      total: z.int().describe('How many match; at least so many if `totalIsLeast`.'),
      totalIsLeast: z.boolean(),
      next: z.string().nullable(),
      previous: z.string().nullable(),
    })
    .meta({ id });
}

/** An RFC 9457 problem. */
export const Problem = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    code: z.string(),
    facts: z.record(z.string(), z.unknown()).optional(),
    errors: z.array(z.object({ pointer: z.string(), message: z.string() })).optional(),
  })
  .meta({ id: 'Problem' });
export type Problem = z.infer<typeof Problem>;

/** Something that can be done now by the person who asks: the event's name and whether it is the main one. */
export const Reference = z.object({ id: z.string(), label: z.string() }).meta({ id: 'Reference' });

/** Dioptres with a step of 0.01 at most. */
const dioptres = z.number().min(-40).max(40);
/** A sphere and cylinder in minus form; the axis is null exactly when the cylinder is 0. */
export const SpheroCylinder = z
  .object({ sphereD: dioptres, cylinderD: dioptres, axisDeg: z.number().min(0).max(180).nullable() })
  .meta({ id: 'SpheroCylinder' });
export type SpheroCylinder = z.infer<typeof SpheroCylinder>;

/** How telling a maker of a change, a cancellation or a return stands: waits for a person, failed, or done, with who or why. */
export const Telling = z
  .object({
    state: z.enum(['by_hand', 'failed', 'told']),
    at: Instant,
    /** Why it failed, or how a person told it. */
    why: z.string().nullable(),
    by: z.string().nullable(),
  })
  .meta({ id: 'Telling' });
export type Telling = z.infer<typeof Telling>;

/** A person told a maker by another way, and which. */
export const ToldMaker = z.strictObject({ version: Version, how: Sentence }).meta({ id: 'ToldMaker' });
