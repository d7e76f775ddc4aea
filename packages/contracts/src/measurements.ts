import { measurementKindNames, measurementKinds, type Field, type MeasurementKind } from '@lensferry/domain';
import { z } from 'zod';
import { Id, Instant, PlainDate, Sentence, ShortText } from './common.js';

/** The zod schema that a field of the domain's table stands for. */
function schemaOf(field: Field): z.ZodType {
  const schema =
    field.type === 'number'
      ? z
          .number(`${field.name} is a number in ${field.unit}.`)
          .min(field.min, `${field.name} is between ${field.min} and ${field.max} ${field.unit}.`)
          .max(field.max, `${field.name} is between ${field.min} and ${field.max} ${field.unit}.`)
      : field.type === 'choice'
        ? z.enum(field.choices as [string, ...string[]])
        : PlainDate;
  return field.required ? schema : schema.optional();
}

const common = { takenOn: PlainDate, device: ShortText, observer: ShortText.optional() };

function inputOf<K extends MeasurementKind>(kind: K) {
  const values = z.strictObject(Object.fromEntries(measurementKinds[kind].map((f) => [f.name, schemaOf(f)])));
  return z.strictObject({ ...common, kind: z.literal(kind), values: checked(kind, values) });
}

/** The rules between fields that a table of fields can't say. */
function checked(kind: MeasurementKind, values: z.ZodObject): z.ZodType<Record<string, unknown>> {
  if (kind === 'refraction') return values.superRefine(axisGoesWithCylinder);
  if (kind === 'keratometry') return values.superRefine(steepIsSteeper);
  if (kind === 'dimensions' || kind === 'health') return values.superRefine(notEmpty);
  return values;
}

function axisGoesWithCylinder(values: Record<string, unknown>, context: z.RefinementCtx): void {
  const { cylinderD, axisDeg } = values as { cylinderD: number; axisDeg?: number };
  if (cylinderD === 0 && axisDeg !== undefined && axisDeg !== 0)
    context.addIssue({
      code: 'custom',
      path: ['axisDeg'],
      message: 'A cylinder of 0 has no axis: leave the axis empty.',
    });
  if (cylinderD !== 0 && axisDeg === undefined)
    context.addIssue({
      code: 'custom',
      path: ['axisDeg'],
      message: 'A cylinder needs its axis, 0 to 180 degrees.',
    });
}

function steepIsSteeper(values: Record<string, unknown>, context: z.RefinementCtx): void {
  const { flatD, steepD, kmaxD } = values as { flatD: number; steepD: number; kmaxD?: number };
  if (steepD < flatD)
    context.addIssue({
      code: 'custom',
      path: ['steepD'],
      message: 'The steep meridian is at least as steep as the flat one.',
    });
  if (kmaxD !== undefined && kmaxD < steepD)
    context.addIssue({
      code: 'custom',
      path: ['kmaxD'],
      message: 'Kmax is the steepest point, so at least the steep meridian.',
    });
}

function notEmpty(values: Record<string, unknown>, context: z.RefinementCtx): void {
  if (Object.values(values).every((value) => value === undefined))
    context.addIssue({ code: 'custom', path: [], message: 'Enter at least one value.' });
}

/** What a person enters for one measurement; `kind` decides which values it has. */
export const MeasurementInput = z
  .discriminatedUnion('kind', [
    inputOf('refraction'),
    inputOf('keratometry'),
    inputOf('chamber'),
    inputOf('dimensions'),
    inputOf('health'),
    inputOf('lens_wear'),
    inputOf('procedure'),
    inputOf('vault'),
    inputOf('lens_axis'),
  ])
  .meta({ id: 'MeasurementInput' });
export type MeasurementInput = z.infer<typeof MeasurementInput>;

/** A correction: the right values, and why the first ones were wrong. What was there is kept. */
export const MeasurementCorrection = z
  .strictObject({ measurement: MeasurementInput, why: Sentence })
  .meta({ id: 'MeasurementCorrection' });
export type MeasurementCorrection = z.infer<typeof MeasurementCorrection>;

/** A measurement on record. A refraction is in minus form whatever form it was entered in. */
export const Measurement = z
  .object({
    id: Id,
    kind: z.enum(measurementKindNames as [MeasurementKind, ...MeasurementKind[]]),
    takenOn: PlainDate,
    device: z.string(),
    observer: z.string(),
    values: z.record(z.string(), z.union([z.number(), z.string(), z.null()])),
    recordedAt: Instant,
    /** The measurement that this one corrects. */
    corrects: Id.nullable(),
    /** A later measurement corrected this one; it no longer counts. */
    corrected: z.boolean(),
    why: z.string().nullable(),
  })
  .meta({ id: 'Measurement' });
export type Measurement = z.infer<typeof Measurement>;
