import { CalculationError, requireNumber, type NumberRange } from '../calculation-error.js';
import { requireKeratometry } from '../optics/corneal-power.js';
import { OPTICS_RANGES } from '../optics/ranges.js';
import type { Keratometry, Refraction, SphereCylinder } from '../optics/types.js';
import { LENGTH_MM, SIZING_RANGES } from '../sizing/sizing-eye.js';
import type { PlanInput } from './plan-types.js';

type Fields = Readonly<Record<string, unknown>>;

const SPHERE_CYLINDER = ['sphereD', 'cylinderD', 'axisDeg'] as const;

/** The fields of one eye; nested ones carry the names of their own fields. */
export const PLAN_FIELDS = {
  id: [],
  eye: [],
  refraction: [...SPHERE_CYLINDER, 'vertexMm'],
  target: SPHERE_CYLINDER,
  keratometry: ['flatD', 'steepD', 'steepAxisDeg', 'index'],
  anteriorChamberDepthMm: [],
  cornealThicknessUm: [],
  lensPlaneOffsetMm: [],
  kmaxD: [],
  coneDistanceMm: [],
  whiteToWhiteMm: [],
  sulcusMm: [],
  angleToAngleMm: [],
  lensRiseUm: [],
  lensThicknessMm: [],
  lens: SPHERE_CYLINDER,
  sizesMm: [],
} as const satisfies Record<string, readonly string[]>;

const OPTIONAL_NUMBERS = {
  lensPlaneOffsetMm: OPTICS_RANGES.lensPlaneOffsetMm,
  kmaxD: SIZING_RANGES.kmaxD,
  coneDistanceMm: SIZING_RANGES.coneDistanceMm,
  whiteToWhiteMm: SIZING_RANGES.whiteToWhiteMm,
  sulcusMm: SIZING_RANGES.sulcusMm,
  angleToAngleMm: SIZING_RANGES.angleToAngleMm,
  lensRiseUm: SIZING_RANGES.lensRiseUm,
  lensThicknessMm: SIZING_RANGES.lensThicknessMm,
} as const satisfies Partial<Record<keyof typeof PLAN_FIELDS, NumberRange>>;

/**
 * Reads one eye from untrusted data: every field known, of its type and in its range. An axis may be
 * left out where there is no cylinder. `path` names the whole eye in an error. Throws CalculationError with the dotted path of the field.
 * @source docs/schema/plan-input.schema.json
 * @example readPlanInput({ id: 'A1', eye: 'OD', … }).refraction.vertexMm // 12
 */
export function readPlanInput(raw: unknown, path = 'the eye'): PlanInput {
  const eye = fieldsOf(path, raw, Object.keys(PLAN_FIELDS), '');
  const sizesMm = readSizes(eye['sizesMm']);
  const optional: Record<string, number> = {};
  for (const [field, range] of Object.entries(OPTIONAL_NUMBERS)) {
    if (eye[field] !== undefined) optional[field] = requireNumber(field, eye[field], range);
  }
  return {
    id: readId(eye['id']),
    eye: readSide(eye['eye']),
    refraction: readRefraction(eye['refraction']),
    keratometry: readKeratometry(eye['keratometry']),
    anteriorChamberDepthMm: requireNumber(
      'anteriorChamberDepthMm',
      eye['anteriorChamberDepthMm'],
      OPTICS_RANGES.anteriorChamberDepthMm,
    ),
    cornealThicknessUm: requireNumber(
      'cornealThicknessUm',
      eye['cornealThicknessUm'],
      OPTICS_RANGES.cornealThicknessUm,
    ),
    ...(eye['target'] === undefined ? {} : { target: readSphereCylinder('target', eye['target']) }),
    ...(eye['lens'] === undefined ? {} : { lens: readSphereCylinder('lens', eye['lens']) }),
    ...(sizesMm === undefined ? {} : { sizesMm }),
    ...optional,
  };
}

function readId(value: unknown): string | number {
  if (typeof value === 'string' && value.trim() !== '' && value.length <= 200) return value;
  if (typeof value === 'number' && Number.isFinite(value)) return value;
  const code = value === undefined ? 'input.missing' : 'input.wrong-type';
  throw new CalculationError(code, 'id', value, 'a text of 1 to 200 characters, or a number');
}

function readSide(value: unknown): 'OD' | 'OS' {
  if (value === 'OD' || value === 'OS') return value;
  const code = value === undefined ? 'input.missing' : 'input.wrong-type';
  throw new CalculationError(code, 'eye', value, 'OD (right) or OS (left)');
}

function readRefraction(value: unknown): Refraction {
  const fields = fieldsOf('refraction', value, PLAN_FIELDS.refraction);
  const vertexMm = requireNumber('refraction.vertexMm', fields['vertexMm'], OPTICS_RANGES.vertexMm);
  return { ...sphereCylinderOf('refraction', fields), vertexMm };
}

function readSphereCylinder(path: string, value: unknown): SphereCylinder {
  return sphereCylinderOf(path, fieldsOf(path, value, SPHERE_CYLINDER));
}

function sphereCylinderOf(path: string, fields: Fields): SphereCylinder {
  const sphereD = requireNumber(`${path}.sphereD`, fields['sphereD'], OPTICS_RANGES.sphereD);
  const cylinderD = requireNumber(`${path}.cylinderD`, fields['cylinderD'], OPTICS_RANGES.cylinderD);
  const axis = fields['axisDeg'];
  if (cylinderD === 0 && axis === undefined) return { sphereD, cylinderD, axisDeg: 0 };
  return {
    sphereD,
    cylinderD,
    axisDeg: requireNumber(`${path}.axisDeg`, axis, OPTICS_RANGES.axisDeg),
  };
}

function readKeratometry(value: unknown): Keratometry {
  const fields = fieldsOf('keratometry', value, PLAN_FIELDS.keratometry);
  const noAxis = fields['steepAxisDeg'] === undefined && fields['flatD'] === fields['steepD'];
  const keratometry = {
    flatD: fields['flatD'],
    steepD: fields['steepD'],
    steepAxisDeg: noAxis ? 0 : fields['steepAxisDeg'],
    ...(fields['index'] === undefined ? {} : { index: fields['index'] }),
  } as Keratometry;
  requireKeratometry('keratometry', keratometry);
  return keratometry;
}

function readSizes(value: unknown): number[] | undefined {
  if (value === undefined) return undefined;
  if (!Array.isArray(value) || value.length === 0 || value.length > 200) {
    const range = 'a list of 1 to 200 lengths in mm';
    throw new CalculationError('input.wrong-type', 'sizesMm', value, range);
  }
  return value.map((length, i) => requireNumber(`sizesMm[${i}]`, length, LENGTH_MM));
}

function fieldsOf(path: string, value: unknown, known: readonly string[], prefix = `${path}.`): Fields {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    const code = value === undefined ? 'input.missing' : 'input.wrong-type';
    throw new CalculationError(code, path, value, `an object with ${known.join(', ')}`);
  }
  for (const field of Object.keys(value)) {
    if (!known.includes(field)) {
      const range = `one of ${known.map((k) => prefix + k).join(', ')}`;
      const name = `${prefix}${field}`;
      const message = `${name} is not a known field; known are ${known.join(', ')}.`;
      throw new CalculationError('input.unknown-field', name, (value as Fields)[field], range, message);
    }
  }
  return value as Fields;
}
