import type { VaultInput } from '../sizing/vault-model.js';

/** An average eye: coefficients are learned about it, so that the offset means what it says. */
export const MIDDLE: Readonly<Record<VaultInput, number>> = {
  lengthMm: 12.75,
  whiteToWhiteMm: 11.7,
  sulcusMm: 11.7,
  verticalSulcusMm: 12.15,
  angleToAngleMm: 11.7,
  lensRiseUm: 150,
  lensThicknessMm: 3.7,
  anteriorChamberDepthMm: 3.2,
  kmaxD: 55,
};
