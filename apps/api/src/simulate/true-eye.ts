import { inventEye, type DemoEye } from '../demo/eyes.js';
import { assumptions } from './assumptions.js';
import type { Chance } from './chance.js';

/** An eye as it is, beside what was measured of it. */
export interface TrueEye {
  readonly measured: DemoEye;
  readonly sulcusMm: number;
  readonly verticalSulcusMm: number;
  /** How far its vault lies from what the regression expects. */
  readonly deviationUm: number;
}

export function trueEye(chance: Chance): TrueEye {
  const measured = inventEye(chance.unit);
  const sulcusMm = measured.sulcusMm ?? measured.whiteToWhiteMm - chance.between(-0.4, 0.3);
  return {
    measured,
    sulcusMm,
    verticalSulcusMm: measured.verticalSulcusMm ?? sulcusMm + chance.between(0.2, 0.7),
    deviationUm: chance.normal() * assumptions.eyeVaultSdUm,
  };
}

/**
 * The vault that a lens of a length has in an eye, micrometres; never below none.
 * @source regression of 83 eyes, BMC Ophthalmol 2021;21:199
 */
export function trueVaultUm(eye: TrueEye, lengthMm: number): number {
  const { sulcusMm, verticalSulcusMm, measured, deviationUm } = eye;
  const expected =
    -1369.05 +
    657.121 * lengthMm -
    287.408 * sulcusMm -
    432.497 * measured.lensThicknessMm -
    137.33 * verticalSulcusMm;
  return Math.max(0, expected + deviationUm);
}

/** The size that the naive rule takes: white-to-white and half a millimetre, to the nearest that is made. */
export function naiveLengthMm(eye: TrueEye, lengthsMm: readonly number[]): number {
  const wanted = eye.measured.whiteToWhiteMm + assumptions.naiveAddMm;
  return lengthsMm.reduce((best, length) =>
    Math.abs(length - wanted) < Math.abs(best - wanted) ? length : best,
  );
}

/** Whether a vault would have its lens exchanged. */
export const asksForExchange = (vaultUm: number): boolean =>
  vaultUm < assumptions.keepFromUm || vaultUm > assumptions.keepToUm;
