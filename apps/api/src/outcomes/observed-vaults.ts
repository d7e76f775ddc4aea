import { missingInputs, type VaultModel, type VaultObservation } from '@lensferry/calculation';
import type { OperatedEye } from './operated-eyes.queries.js';

/** A measured vault, with the eye it is of. */
export interface Seen extends VaultObservation {
  readonly from: OperatedEye;
  readonly measuredOn: string;
  readonly daysAfter: number;
}

/** The vaults of a design that a model can learn from, in the order of their days; and how many it can't. */
export function observedVaults(
  designCode: string,
  model: VaultModel,
  eyes: readonly OperatedEye[],
): { seen: Seen[]; leftOut: number } {
  const lenses = eyes.flatMap((from) =>
    from.vaults.filter((vault) => vault.designCode === designCode).map((vault) => ({ from, vault })),
  );
  const seen = lenses
    .flatMap(({ from, vault: { eye, lengthMm, vaultUm, measuredOn, daysAfter } }) =>
      vaultUm === null || measuredOn === null || daysAfter === null || missingInputs(eye, model).length > 0
        ? []
        : [{ from, measuredOn, daysAfter, clinic: from.clinic.name, eye, lengthMm, vaultUm }],
    )
    .sort(
      (a, b) => a.measuredOn.localeCompare(b.measuredOn) || a.from.caseCode.localeCompare(b.from.caseCode),
    );
  return { seen, leftOut: lenses.length - seen.length };
}

/** A model on a sheet; a learned one holds the model that it began from. */
export type SheetModel = VaultModel & { readonly learnedFrom?: VaultModel };

/** What learning begins from. A learned model has these eyes in it already, and would count them twice. */
export const startOf = (model: SheetModel): VaultModel => model.learnedFrom ?? model;
