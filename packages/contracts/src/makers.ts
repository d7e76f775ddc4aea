import { z } from 'zod';
import { Channel, PlainDate, ShortText, Version } from './common.js';
import { EditMaker } from './designs.js';

/** How a maker is reached; what its channel needs has to be there, the rest may be kept for another day. */
const reach = {
  channel: Channel,
  /** Where messages are posted: `/orders`, `/changes`, `/cancellations` and `/returns` are put behind it. */
  endpoint: z
    .url({ protocol: /^https?$/, error: 'Write an address such as https://orders.maker.example/lensferry.' })
    .max(300)
    .nullable(),
  orderEmail: z.email('Write an address such as orders@maker.example.').max(200).nullable(),
  sendsPerMinute: z.int().min(1).max(600),
};

type Reach = { channel: string; endpoint: string | null; orderEmail: string | null };
/** What the chosen channel can't do without. */
function reachable(of: Reach, ctx: z.RefinementCtx): void {
  if (of.channel === 'https' && of.endpoint === null)
    ctx.addIssue({
      code: 'custom',
      path: ['endpoint'],
      message: 'Messages need an address to be posted to.',
    });
  if (of.channel === 'email' && of.orderEmail === null)
    ctx.addIssue({ code: 'custom', path: ['orderEmail'], message: 'E-mail needs an address for orders.' });
}

/** Changes how a maker is reached. What is waiting to be sent goes the new way. */
export const ReachMaker = z
  .strictObject({ version: Version, ...reach })
  .superRefine(reachable)
  .meta({ id: 'ReachMaker' });
export type ReachMaker = z.infer<typeof ReachMaker>;

/** A code that labels, orders and addresses carry: it can't be changed later. */
const Code = z
  .string()
  .trim()
  .regex(/^[A-Z][A-Z0-9-]{1,19}$/, 'Write two to twenty capital letters, digits or hyphens, a letter first.');

/** Adds a maker that the network has not ordered from yet. */
export const AddMaker = z
  .strictObject({ code: Code, name: ShortText, ...reach, ...EditMaker.omit({ version: true }).shape })
  .superRefine(reachable)
  .meta({ id: 'AddMaker' });
export type AddMaker = z.infer<typeof AddMaker>;

/** Asks for a new signing secret; the old one stops to work at once. */
export const RenewSecret = z.strictObject({ version: Version }).meta({ id: 'RenewSecret' });
export type RenewSecret = z.infer<typeof RenewSecret>;

/** A maker's new signing secret: shown this once, kept sealed, never told again. */
export const NewSecret = z
  .object({ id: z.string(), makerCode: z.string(), secret: z.string() })
  .meta({ id: 'NewSecret' });
export type NewSecret = z.infer<typeof NewSecret>;

/** Adds a design with its first sheet, as a file in the form of `new-design.csv`. */
export const AddDesign = z
  .strictObject({
    code: Code,
    name: ShortText,
    file: z.string().min(1, 'Choose a file.').max(100_000, 'This file is too long for a design’s sheet.'),
    validFrom: PlainDate,
  })
  .meta({ id: 'AddDesign' });
export type AddDesign = z.infer<typeof AddDesign>;
