import {
  CalculationError,
  expectedOutcome,
  idealLens,
  lensRangeGaps,
  predictedRefraction,
  rankLenses,
  suggestSize,
  turnDeg,
  type ExpectedOutcome,
  type PhakicEye,
  type SizeSuggestion,
  type SphereCylinder,
  type VaultModel,
} from '@lensferry/calculation';
import type { DesignSheet, PlanInput, SpheroCylinder } from '@lensferry/contracts';

/** A lens as it would be ordered. */
export type Lens = SpheroCylinder;

export interface WhatIf {
  ideal: SpheroCylinder;
  /** What the lens would leave, at the spectacle plane. */
  predicted: SpheroCylinder;
  outcome: ExpectedOutcome;
  /** The turn to make in the eye; 0 for a lens made to its axis. */
  turnDeg: number;
}

const told = ({ sphereD, cylinderD, axisDeg }: SphereCylinder): SpheroCylinder => ({
  sphereD,
  cylinderD,
  axisDeg: cylinderD === 0 ? null : axisDeg,
});
const asked = ({ sphereD, cylinderD, axisDeg }: SpheroCylinder): SphereCylinder => ({
  sphereD,
  cylinderD,
  axisDeg: axisDeg ?? 0,
});

/** The numbers of an eye as the calculation takes them; the offset of the lens plane is the design's own. */
export function eyeOf(input: PlanInput, target: SpheroCylinder, sheet: DesignSheet): PhakicEye {
  const { index, ...powers } = input.keratometry;
  return {
    refraction: { ...asked(input.refraction), vertexMm: input.refraction.vertexMm },
    keratometry: index === null ? powers : { ...powers, index },
    target: asked(target),
    anteriorChamberDepthMm: input.depthFromEndotheliumMm,
    cornealThicknessUm: input.cornealThicknessUm,
    lensPlaneOffsetMm: sheet.lensPlaneOffsetMm,
  };
}

/** What a lens would do in this eye, computed here and now; null with the reason when it can't be computed. */
export function whatIf(eye: PhakicEye, lens: Lens, sheet: DesignSheet): WhatIf | CalculationError {
  return attempt(() => {
    const ideal = idealLens(eye);
    // A lens made to a fixed axis is turned in the eye until it lies where the eye needs it.
    const lies = sheet.axis.policy === 'fixed' && lens.cylinderD !== 0 ? ideal.axisDeg : (lens.axisDeg ?? 0);
    const inEye = { ...asked(lens), axisDeg: lies };
    return {
      ideal: told(ideal),
      predicted: told(predictedRefraction(eye, inEye)),
      outcome: expectedOutcome(eye, inEye),
      turnDeg: sheet.axis.policy === 'fixed' && lens.axisDeg !== null ? turnDeg(lens.axisDeg, lies) : 0,
    };
  });
}

/** The lens of a design that comes nearest to what the eye needs; null when the design can't make one. */
export function bestOf(eye: PhakicEye, sheet: DesignSheet): Lens | null {
  const best = attempt(() =>
    lensRangeGaps(idealLens(eye), sheet).length > 0
      ? undefined
      : rankLenses(eye, sheet).find(({ breaks }) => breaks.length === 0)?.ordered,
  );
  return best === undefined || best instanceof CalculationError
    ? null
    : { ...told(best), axisDeg: best.cylinderD === 0 ? null : Math.round(best.axisDeg) || 180 };
}

/** The sizes of a design with the vault each would give. */
export function sizesOf(input: PlanInput, sheet: DesignSheet): SizeSuggestion | CalculationError {
  const known = <T>(value: T | null): T | undefined => value ?? undefined;
  return attempt(() =>
    suggestSize(
      {
        whiteToWhiteMm: known(input.whiteToWhiteMm),
        sulcusMm: known(input.sulcusMm),
        verticalSulcusMm: known(input.verticalSulcusMm),
        angleToAngleMm: known(input.angleToAngleMm),
        lensRiseUm: known(input.lensRiseUm),
        lensThicknessMm: known(input.lensThicknessMm),
        anteriorChamberDepthMm: input.depthFromEndotheliumMm,
        kmaxD: known(input.kmaxD),
        coneDistanceMm: known(input.coneDistanceMm),
      },
      {
        lengthsMm: sheet.lengthsMm,
        ...(sheet.vaultModel === null ? {} : { model: sheet.vaultModel as unknown as VaultModel }),
      },
    ),
  );
}

function attempt<T>(compute: () => T): T | CalculationError {
  try {
    return compute();
  } catch (error) {
    if (error instanceof CalculationError) return error;
    throw error;
  }
}

/** Whether two refractions print the same to a hundredth of a dioptre and a degree. */
export function agree(a: SpheroCylinder, b: SpheroCylinder): boolean {
  const near = (x: number, y: number, by: number) => Math.abs(x - y) <= by;
  const turned = Math.abs(turnDeg(a.axisDeg ?? 0, b.axisDeg ?? 0));
  return (
    near(a.sphereD, b.sphereD, 0.01) &&
    near(a.cylinderD, b.cylinderD, 0.01) &&
    (Math.abs(a.cylinderD) < 0.05 || turned <= 1)
  );
}
