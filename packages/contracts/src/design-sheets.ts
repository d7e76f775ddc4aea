import { z } from 'zod';
import { PlainDate } from './common.js';

/** A design's sheet as a file: comma-separated values, as they were exported and then edited. */
const file = z.string().min(1, 'Choose a file.').max(100_000, 'This file is too long for a design’s sheet.');

/** Asks what a file would change; nothing is kept. */
export const PreviewSheet = z.strictObject({ file }).meta({ id: 'PreviewSheet' });
export type PreviewSheet = z.infer<typeof PreviewSheet>;

/** Makes a new version of a design from a file, valid from a day on. `newest` is the version that was compared with. */
export const ImportSheet = z
  .strictObject({ file, newest: z.int().min(1), validFrom: PlainDate })
  .meta({ id: 'ImportSheet' });
export type ImportSheet = z.infer<typeof ImportSheet>;

/** One thing wrong in a file: the row counted from 1 without blank lines, and what to mend. */
export const SheetFault = z
  .object({
    row: z.int(),
    column: z.enum(['file', 'field', 'unit', 'value']),
    value: z.string(),
    message: z.string(),
  })
  .meta({ id: 'SheetFault' });
export type SheetFault = z.infer<typeof SheetFault>;

/** One row of a sheet that a file would change; an empty text is an empty cell. */
export const SheetDifference = z
  .object({ field: z.string(), unit: z.string(), before: z.string(), after: z.string() })
  .meta({ id: 'SheetDifference' });
export type SheetDifference = z.infer<typeof SheetDifference>;

/** What a file would change against the newest version; no differences are told while there is a fault. */
export const SheetPreview = z
  .object({
    newest: z.int(),
    newestValidFrom: PlainDate,
    /** The first day that a new version may be valid from. */
    earliest: PlainDate,
    faults: z.array(SheetFault),
    differences: z.array(SheetDifference),
  })
  .meta({ id: 'SheetPreview' });
export type SheetPreview = z.infer<typeof SheetPreview>;
