import { gatherEye } from '@lensferry/domain';
import type { CaseDetail, PlanInput } from '@lensferry/contracts';
import type { FaceViewInput } from '../shared/drawing/FaceView';
import type { LensInSection } from '../shared/drawing/CrossSection';

type Widths = Pick<PlanInput, 'sulcusMm' | 'angleToAngleMm' | 'whiteToWhiteMm'>;

/** The eye's numbers by the domain's rule: those of the latest plan, else of the measurements, once they suffice. */
export function numbersOf(of: CaseDetail): PlanInput | null {
  const plan = of.plans.at(-1);
  if (plan) return plan.result.input;
  const counting = of.measurements.filter(({ corrected }) => !corrected);
  return gatherEye(counting, of.implantations[0] ?? null).eye as PlanInput | null;
}

/** The best width that was measured, and which one it is. */
export function widthOf(input: Widths): { widthMm: number; widthName: keyof Widths } | null {
  const names = ['sulcusMm', 'angleToAngleMm', 'whiteToWhiteMm'] as const;
  const widthName = names.find((name) => input[name] !== null);
  return widthName === undefined ? null : { widthMm: input[widthName] ?? 0, widthName };
}

/** The lens that is in the eye now, when there is one. */
export function lensInEye(of: CaseDetail): CaseDetail['implantations'][number] | null {
  return of.implantations.filter(({ explantedOn }) => explantedOn === null).at(-1) ?? null;
}

/** What the face view shows of a case: the lens where it lies, else where the plan puts it. */
export function faceOf(of: CaseDetail, input: PlanInput): FaceViewInput {
  const inEye = lensInEye(of);
  const plan = of.plans.at(-1);
  const planned = plan && (!inEye || of.inExchange) ? plan.choice.axisDeg : null;
  return {
    eye: of.eye,
    steepAxisDeg: input.keratometry.steepAxisDeg,
    lensAxisDeg: planned ?? inEye?.axisDeg ?? null,
    turnDeg: turnOf(of),
    cone:
      input.coneDistanceMm === null || input.coneDirectionDeg === null
        ? null
        : { distanceMm: input.coneDistanceMm, directionDeg: input.coneDirectionDeg, kmaxD: input.kmaxD },
  };
}

/** The lens of the cross-section: with its measured vault when there is one, else as the plan predicts it. */
export function sectionLensOf(of: CaseDetail): LensInSection | null {
  const inEye = lensInEye(of);
  const check = inEye && of.vaultChecks.filter(({ lensId }) => lensId === inEye.lensId).at(-1);
  const plan = of.plans.at(-1);
  if (inEye && check && !of.inExchange)
    return { lengthMm: inEye.lens.lengthMm, vaultUm: check.vaultUm, spread: null };
  if (!plan?.chosenSize) return null;
  const { lengthMm, vaultUm } = plan.chosenSize;
  return { lengthMm, vaultUm: vaultUm.p50, spread: vaultUm };
}

/** The turn to make in theatre, or the one that is advised for the lens in the eye. */
function turnOf(of: CaseDetail): number | null {
  if (lensInEye(of) && !of.inExchange) return of.rotation?.verdict === 'turn' ? of.rotation.turnDeg : null;
  return of.plans.at(-1)?.chosen.turnDeg ?? null;
}
