import { CalculationError, requireNumber } from '../calculation-error.js';
import { normalAxisDeg, turnDeg } from './power-vector.js';
import { OPTICS_RANGES } from './ranges.js';
import { minusForm, plusForm } from './sphere-cylinder.js';
import type { SphereCylinder } from './types.js';

/** Powers that can be made: from the lower to the upper limit, both included, in equal steps, in D. */
export interface PowerSteps {
  readonly minD: number;
  readonly maxD: number;
  readonly stepD: number;
}

/**
 * How a design brings its cylinder to the eye's axis: made to any axis in steps, or made to a few
 * fixed axes (seen with the lens lying horizontally) and turned by the surgeon up to a limit.
 */
export type AxisPolicy =
  | { readonly policy: 'any'; readonly stepDeg: number }
  | {
      readonly policy: 'fixed';
      readonly axesDeg: readonly number[];
      readonly maximumTurnDeg: number;
    };

/** What a maker can make of one design. Sphere and cylinder are in the maker's form, minus when left out. */
export interface LensRange {
  readonly sphere: PowerSteps;
  readonly cylinder: PowerSteps;
  readonly axis: AxisPolicy;
  readonly form?: 'minus' | 'plus' | undefined;
}

/** How far the surgeon turns a lens from its horizontal place, as one faces the eye. */
export interface LensTurn {
  /** The axis the lens is made to, 0 ≤ a < 180. */
  readonly fromAxisDeg: number;
  /** 0 to 90 degrees. */
  readonly angleDeg: number;
  readonly direction: 'clockwise' | 'counterclockwise' | 'none';
}

/** One axis that a lens can have in the eye, and the turn that brings it there. */
export interface AxisChoice {
  readonly madeAxisDeg: number;
  readonly implantedAxisDeg: number;
  readonly turn?: LensTurn;
}

/** Why a lens lies outside what a maker can make: the field, what was wanted and the nearest limit. */
export interface RangeGap {
  readonly code: 'sphere-out-of-range' | 'cylinder-out-of-range' | 'turn-too-far';
  readonly field: string;
  readonly wanted: number;
  readonly limit: number;
}

/**
 * What keeps a maker from making a lens at all, as a list that is empty when it can be made to the
 * nearest step. Powers are compared in the maker's own cylinder form.
 * Throws CalculationError for a range that cannot be.
 * @source none: compares with what the maker states
 * @example lensRangeGaps({ sphereD: -20, cylinderD: -4, axisDeg: 30 }, range) // [{ code: 'sphere-out-of-range', … }]
 */
export function lensRangeGaps(lens: SphereCylinder, range: LensRange): RangeGap[] {
  requireLensRange(range);
  const wanted = range.form === 'plus' ? plusForm(lens) : minusForm(lens);
  const gaps: RangeGap[] = [];
  const power = (code: RangeGap['code'], field: string, value: number, steps: PowerSteps): void => {
    // Half a step beyond the end still rounds to the end.
    if (value < steps.minD - steps.stepD / 2) {
      gaps.push({ code, field, wanted: value, limit: steps.minD });
    } else if (value > steps.maxD + steps.stepD / 2) {
      gaps.push({ code, field, wanted: value, limit: steps.maxD });
    }
  };
  power('sphere-out-of-range', 'sphereD', wanted.sphereD, range.sphere);
  power('cylinder-out-of-range', 'cylinderD', wanted.cylinderD, range.cylinder);
  if (range.axis.policy === 'fixed' && wanted.cylinderD !== 0) {
    const turns = range.axis.axesDeg.map((made) => Math.abs(turnDeg(made, wanted.axisDeg)));
    const least = Math.min(...turns);
    if (least > range.axis.maximumTurnDeg) {
      gaps.push({
        code: 'turn-too-far',
        field: 'axisDeg',
        wanted: least,
        limit: range.axis.maximumTurnDeg,
      });
    }
  }
  return gaps;
}

/** The steps of a power within `windowD` of the wanted one, lowest first, in D. */
export function powerStepsNear(wantedD: number, steps: PowerSteps, windowD: number): number[] {
  const last = Math.floor((steps.maxD - steps.minD) / steps.stepD + 1e-9);
  const from = Math.max(0, Math.ceil((wantedD - windowD - steps.minD) / steps.stepD - 1e-9));
  const to = Math.min(last, Math.floor((wantedD + windowD - steps.minD) / steps.stepD + 1e-9));
  const values: number[] = [];
  // Rounded to a ten-thousandth of a dioptre so that steps of 0.1 print as they are ordered.
  for (let k = from; k <= to; k += 1) {
    values.push(Math.round((steps.minD + k * steps.stepD) * 1e4) / 1e4 + 0);
  }
  return values;
}

/** The axes near the wanted one that the design allows, in its own cylinder form. */
export function axisChoices(wantedDeg: number, policy: AxisPolicy): AxisChoice[] {
  if (policy.policy === 'any') {
    const below = Math.floor(wantedDeg / policy.stepDeg + 1e-9) * policy.stepDeg;
    // Past the last step before 180° comes 0° again, also where the step does not divide 180.
    const above = below + policy.stepDeg;
    const axes = new Set([normalAxisDeg(below), above >= 180 ? 0 : above]);
    return [...axes].map((axis) => ({ madeAxisDeg: axis, implantedAxisDeg: axis }));
  }
  const choices: AxisChoice[] = [];
  for (const made of policy.axesDeg) {
    // A surgeon's marks are whole degrees.
    const turn = Math.round(turnDeg(made, wantedDeg));
    if (Math.abs(turn) > policy.maximumTurnDeg) continue;
    choices.push({
      madeAxisDeg: normalAxisDeg(made),
      implantedAxisDeg: normalAxisDeg(made + turn),
      turn: {
        fromAxisDeg: normalAxisDeg(made),
        angleDeg: Math.abs(turn),
        direction: turn === 0 ? 'none' : turn > 0 ? 'counterclockwise' : 'clockwise',
      },
    });
  }
  return choices;
}

/** Throws CalculationError unless the range is one that a maker could have. */
export function requireLensRange(range: LensRange): void {
  requireSteps('range.sphere', range.sphere, OPTICS_RANGES.sphereD);
  requireSteps('range.cylinder', range.cylinder, OPTICS_RANGES.cylinderD);
  const plus = range.form === 'plus';
  if (plus ? range.cylinder.minD < 0 : range.cylinder.maxD > 0) {
    const field = plus ? 'range.cylinder.minD' : 'range.cylinder.maxD';
    const value = plus ? range.cylinder.minD : range.cylinder.maxD;
    const words = plus ? 'at least 0 D in plus form' : 'at most 0 D in minus form';
    throw new CalculationError('input.contradiction', field, value, words);
  }
  const { axis } = range;
  if (axis.policy === 'any') {
    requireNumber('range.axis.stepDeg', axis.stepDeg, { min: 0.1, max: 90, unit: 'degrees' });
    return;
  }
  const turn = { min: 0, max: 90, unit: 'degrees' };
  requireNumber('range.axis.maximumTurnDeg', axis.maximumTurnDeg, turn);
  if (axis.axesDeg.length === 0) {
    throw new CalculationError('input.missing', 'range.axis.axesDeg', [], 'at least one axis');
  }
  axis.axesDeg.forEach((value, i) => {
    requireNumber(`range.axis.axesDeg[${i}]`, value, OPTICS_RANGES.axisDeg);
  });
}

function requireSteps(
  field: string,
  steps: PowerSteps,
  limits: { min: number; max: number; unit: string },
): void {
  requireNumber(`${field}.minD`, steps.minD, limits);
  requireNumber(`${field}.maxD`, steps.maxD, { ...limits, min: steps.minD });
  requireNumber(`${field}.stepD`, steps.stepD, { min: 0.01, max: 5, unit: 'D' });
}
