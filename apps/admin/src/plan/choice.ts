import type {
  DesignSheet,
  LensOption,
  MakerSummary,
  PlanChoice,
  PlanInput,
  PlanRecord,
  PlanResult,
  SpheroCylinder,
} from '@lensferry/contracts';

/** A design that can be chosen, with its maker. */
export interface DesignChoice {
  id: string;
  maker: string;
  name: string;
  currency: string;
  sheet: DesignSheet;
}

/** The latest version of each design of each maker. */
export function designsOf(makers: readonly MakerSummary[]): DesignChoice[] {
  return makers.flatMap((maker) => {
    const latest = new Map<string, MakerSummary['designs'][number]>();
    for (const design of maker.designs) {
      const known = latest.get(design.code);
      if (!known || design.version > known.version) latest.set(design.code, design);
    }
    return [...latest.values()].map(({ id, name, sheet }) => ({
      id,
      maker: maker.name,
      currency: maker.currency,
      name,
      sheet,
    }));
  });
}

/** What the page starts with: the last plan's choice, else the server's first option in its suggested size. */
export function firstChoice(
  last: PlanRecord | undefined,
  result: PlanResult,
  target: SpheroCylinder,
): PlanChoice | null {
  if (last && result.options.some(({ designVersionId }) => designVersionId === last.choice.designVersionId)) {
    const sizing = result.sizing.find(
      ({ designVersionId }) => designVersionId === last.choice.designVersionId,
    );
    // An offset is chosen anew each time, with its own reason.
    const { offset: _chosenThen, ...before } = last.choice;
    return {
      ...before,
      target,
      lengthMm: sizing?.basis === 'exchange' ? sizing.suggestedLengthMm : last.choice.lengthMm,
    };
  }
  const option = result.options[0];
  return option ? choiceOf(option, result, target) : null;
}

/** The eye's numbers as the plan goes by them: with the refraction of the learned offset where one is used. */
export function plannedInput({ input, offset }: Pick<PlanResult, 'input' | 'offset'>): PlanInput {
  return offset
    ? { ...input, refraction: { ...offset.refraction, vertexMm: input.refraction.vertexMm } }
    : input;
}

/** The offset that a plan is made with, as it is shown; its reason is still to be written. */
export function offsetChosen({ offset }: Pick<PlanResult, 'offset'>): Pick<PlanChoice, 'offset'> {
  if (!offset) return {};
  const { mean, j0, j45 } = offset;
  return { offset: { meanD: mean.estimateD, j0D: j0.estimateD, j45D: j45.estimateD, why: '' } };
}

/** An option of the server as a choice, in the size that is suggested for its design. */
export function choiceOf(option: LensOption, result: PlanResult, target: SpheroCylinder): PlanChoice {
  const sizing = result.sizing.find(({ designVersionId }) => designVersionId === option.designVersionId);
  const { designVersionId, sphereD, cylinderD, axisDeg } = option;
  return { target, designVersionId, sphereD, cylinderD, axisDeg, lengthMm: sizing?.suggestedLengthMm ?? 0 };
}

/** A power one step of the design up or down, kept inside what can be made. */
export function stepped(
  value: number,
  range: { minD: number; maxD: number; stepD: number },
  steps: number,
): number {
  const next = Math.round((value + steps * range.stepD) * 100) / 100;
  return Math.min(range.maxD, Math.max(range.minD, next));
}

/** An axis turned by steps: 1 to 180, going round; a fixed design goes through its own axes. */
export function steppedAxis(value: number, axis: DesignSheet['axis'], steps: number): number {
  if (axis.policy === 'fixed') {
    const axes = [...axis.axesDeg].sort((a, b) => a - b);
    const at = Math.max(0, axes.indexOf(value));
    return axes[(at + steps + axes.length) % axes.length] ?? value;
  }
  const next = (((value + steps * axis.stepDeg) % 180) + 180) % 180;
  return next === 0 ? 180 : next;
}

/** The fields in which a choice differs from the last plan's. */
export function changesSince(last: PlanRecord | undefined, choice: PlanChoice) {
  if (!last) return [];
  const flat = (one: PlanChoice): Record<string, string | number | null> => ({
    sphereD: one.sphereD,
    cylinderD: one.cylinderD,
    axisDeg: one.axisDeg,
    lengthMm: one.lengthMm,
    companionLengthMm: one.companionLengthMm ?? null,
    targetSphereD: one.target.sphereD,
    targetCylinderD: one.target.cylinderD,
    targetAxisDeg: one.target.axisDeg,
  });
  const [before, after] = [flat(last.choice), flat(choice)];
  return Object.keys(after)
    .filter((field) => before[field] !== after[field])
    .map((field) => ({ field, before: before[field] ?? null, after: after[field] ?? null }));
}
