import { CalculationError, requireNumber, type NumberRange } from '../calculation-error.js';
import { LENGTH_MM, requireSizingEye, type SizingEye } from './sizing-eye.js';

/** What a vault model may rest on: the length of the lens and the measurements of the eye. */
export type VaultInput = 'lengthMm' | Exclude<keyof SizingEye, 'coneDistanceMm'>;

/**
 * A linear model of the vault of one lens design, from measurements of one kind of device. Its
 * coefficients are configuration with a source and a version, never constants of the program.
 */
export interface VaultModel {
  readonly id: string;
  readonly version: string;
  readonly source: string;
  /** Kind of device the measurements must come from. */
  readonly device: string;
  readonly interceptUm: number;
  /** Micrometres of vault per unit of each field (per mm, or per µm for lensRiseUm); lengthMm is required. */
  readonly coefficients: Readonly<Partial<Record<VaultInput, number>>>;
  /** Standard deviation of measured about predicted vault. */
  readonly residualSdUm: number;
  /** Correlation of the residuals of two lenses, or two readings, in one eye, 0 to below 1. */
  readonly withinEyeCorrelation?: number | undefined;
}

/** Vault models from the literature, to start from and to compare with; none is a default. */
export const PUBLISHED_VAULT_MODELS = [
  {
    id: 'sulcus-both-ways-lens-thickness',
    version: '2021-1',
    source:
      'BMC Ophthalmol 2021;21:199 (83 eyes, 1 month); spread from the prospective check on 925 eyes, PMC9714062',
    device: 'ultrasound biomicroscopy',
    interceptUm: -1369.05,
    coefficients: {
      lengthMm: 657.121,
      sulcusMm: -287.408,
      lensThicknessMm: -432.497,
      verticalSulcusMm: -137.33,
    },
    residualSdUm: 176,
  },
  {
    id: 'horizontal-sulcus',
    version: '2026-1',
    source: 'Front Med 2026, 1762551 (72 eyes, 1 month); spread from another model on 925 eyes, PMC9714062',
    device: 'ultrasound biomicroscopy',
    interceptUm: -2286.216,
    coefficients: { lengthMm: 375.487, sulcusMm: -164.416 },
    residualSdUm: 176,
  },
] as const satisfies readonly VaultModel[];

const COEFFICIENT: NumberRange = { min: -5000, max: 5000, unit: 'µm per unit' };

/**
 * Throws CalculationError unless the model can be one: finite, growing with length, with a spread.
 * @source none: the house rule that impossible input is refused by name
 * @example requireVaultModel(PUBLISHED_VAULT_MODELS[0])
 */
export function requireVaultModel(model: VaultModel): void {
  requireNumber('model.interceptUm', model.interceptUm, { min: -50000, max: 50000, unit: 'µm' });
  requireNumber('model.residualSdUm', model.residualSdUm, { min: 1, max: 1000, unit: 'µm' });
  for (const [field, value] of Object.entries(model.coefficients)) {
    requireNumber(`model.coefficients.${field}`, value, COEFFICIENT);
  }
  requireNumber('model.coefficients.lengthMm', model.coefficients.lengthMm, {
    min: 1,
    max: 5000,
    unit: 'µm per mm',
  });
  if (model.withinEyeCorrelation !== undefined) {
    requireNumber('model.withinEyeCorrelation', model.withinEyeCorrelation, CORRELATION);
  }
}

/** What a within-eye correlation may be. */
export const CORRELATION: NumberRange = { min: 0, max: 0.99, unit: '' };

/**
 * The measurements that a model needs and the eye has not, in the model's order.
 * Throws nothing.
 * @source none: reads the model
 * @example missingInputs({ sulcusMm: 11.6 }, PUBLISHED_VAULT_MODELS[1]) // []
 */
export function missingInputs(eye: SizingEye, model: VaultModel): (keyof SizingEye)[] {
  return eyeInputs(model).filter((field) => eye[field] === undefined);
}

/** The measurements of the eye that a model rests on. */
export function eyeInputs(model: VaultModel): (keyof SizingEye)[] {
  return (Object.keys(model.coefficients) as VaultInput[]).filter(
    (field): field is Exclude<VaultInput, 'lengthMm'> => field !== 'lengthMm',
  );
}

/**
 * The vault in µm that a model expects at one length: intercept + Σ coefficient × value. Below 0 the
 * lens would touch. Throws CalculationError for a missing measurement or a number that cannot be.
 * @source BMC Ophthalmol 2021;21:199 (form of the model)
 * @example predictVaultUm({ sulcusMm: 11.6, verticalSulcusMm: 12, lensThicknessMm: 3.6 }, 12.5, PUBLISHED_VAULT_MODELS[0]) // 306.1
 */
export function predictVaultUm(eye: SizingEye, lengthMm: number, model: VaultModel): number {
  requireSizingEye(eye);
  requireNumber('lengthMm', lengthMm, LENGTH_MM);
  requireVaultModel(model);
  return modelledVaultUm(eye, lengthMm, model);
}

/** `predictVaultUm` for an eye, a length and a model that were checked before. */
export function modelledVaultUm(eye: SizingEye, lengthMm: number, model: VaultModel): number {
  let sum = model.interceptUm;
  for (const [field, perUnit] of Object.entries(model.coefficients) as [VaultInput, number][]) {
    const value = field === 'lengthMm' ? lengthMm : eye[field];
    if (value === undefined) {
      throw new CalculationError('input.missing', field, value, `given for the model ${model.id}`);
    }
    sum += perUnit * value;
  }
  return sum;
}
