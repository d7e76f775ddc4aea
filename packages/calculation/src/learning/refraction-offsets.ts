import { CalculationError, requireNumber } from '../calculation-error.js';
import { studentQuantile } from '../outcomes/distributions.js';
import { isWithTheRule } from '../optics/rank-policy.js';
import type { SphereCylinder } from '../optics/types.js';
import { learnRegression, predictRegression, type LearnedRegression } from './conjugate-regression.js';
import type { RegressionSums } from './regression-sums.js';

/** Where the eye's cylinder lies: its minus axis near horizontal, near vertical, between, or none to speak of. */
export type AxisClass = 'with' | 'against' | 'oblique';

/** Dimensions that an offset may go with. */
export const OFFSET_SIDES = ['device', 'clinic', 'axisClass'] as const;
/** One of the dimensions that an offset may go with. */
export type OffsetSide = (typeof OFFSET_SIDES)[number];

/** Where an eye stands: the device its refraction came from, the clinic, and the class of its axis. */
export interface OffsetPlace {
  readonly device: string;
  readonly clinic: string;
  readonly axisClass: AxisClass;
}

/** Achieved less predicted refraction of one eye as a power vector, in dioptres. */
export interface RefractionError extends OffsetPlace {
  readonly meanD: number;
  readonly j0D: number;
  readonly j45D: number;
}

/** Sums of the eyes of one place: all that leaves a clinic. */
export interface OffsetCell extends OffsetPlace {
  readonly n: number;
  /** Sums of the errors and of their squares: M, J0, J45. */
  readonly sums: readonly [number, number, number];
  readonly squares: readonly [number, number, number];
}

/** What is believed of offsets before any eye, as standard deviations in dioptres. */
export interface OffsetTrust {
  /** Of the offset that all eyes share. */
  readonly sharedD: number;
  /** Of what a device, a clinic or a class adds. */
  readonly sideD: number;
  /** Spread of single eyes: M, J0, J45. */
  readonly eyeD: readonly [number, number, number];
  readonly spreadWorthEyes: number;
}

/** Spread of eyes: keratoconus, 31 eyes, J Ophthalmol 2020;2020:4831298; the rest: own assumption. */
export const DEFAULT_OFFSET_TRUST: OffsetTrust = {
  sharedD: 0.25,
  sideD: 0.15,
  eyeD: [0.65, 0.29, 0.24],
  spreadWorthEyes: 10,
};

/** An offset with its limits (95 %). */
export interface OffsetEstimate {
  readonly estimateD: number;
  readonly lowD: number;
  readonly highD: number;
}

/** A systematic offset that is shown and offered; nothing here applies it to a plan. */
export interface OfferedOffset {
  /** What it is an offset of: all eyes, one side (the device, the clinic, the class) or one whole place. */
  readonly of: 'all' | OffsetSide | 'place';
  readonly name: string;
  /** Eyes behind it. */
  readonly n: number;
  readonly mean: OffsetEstimate;
  readonly j0: OffsetEstimate;
  readonly j45: OffsetEstimate;
  /** Whether 0 lies outside the limits of at least one component: then it is worth a look. */
  readonly beyondDoubt: boolean;
}

/** Offsets after they were learned. */
export interface LearnedOffsets {
  readonly cells: readonly OffsetCell[];
  readonly names: Readonly<Record<OffsetSide, readonly string[]>>;
  /** One regression for each of M, J0 and J45. */
  readonly components: readonly [LearnedRegression, LearnedRegression, LearnedRegression];
}

/**
 * The class of a minus-cylinder axis; below 0.25 D of cylinder an axis says nothing and counts as oblique.
 * Throws CalculationError for an axis outside 0 to 180.
 * @source within 30° of a meridian: common practice, no source
 * @example axisClassOf({ sphereD: -8, cylinderD: -4, axisDeg: 175 }) // 'with'
 */
export function axisClassOf(refraction: SphereCylinder): AxisClass {
  if (refraction.cylinderD > -0.25) return 'oblique';
  if (isWithTheRule(refraction)) return 'with';
  const turned = { ...refraction, axisDeg: (refraction.axisDeg + 90) % 180 };
  return isWithTheRule(turned) ? 'against' : 'oblique';
}

/**
 * Sums the errors of eyes place by place. Throws CalculationError for an error outside ±20 D.
 * @source sufficient statistics of the normal linear model
 * @example offsetCells([{ device: 'phoropter', clinic: 'A', axisClass: 'with', meanD: 0.2, j0D: 0, j45D: 0 }])[0].n // 1
 */
export function offsetCells(errors: readonly RefractionError[]): OffsetCell[] {
  const cells = new Map<string, OffsetCell>();
  errors.forEach((error, index) => {
    const { device, clinic, axisClass } = error;
    const parts = (['meanD', 'j0D', 'j45D'] as const).map((name) =>
      requireNumber(`errors[${index}].${name}`, error[name], { min: -20, max: 20, unit: 'D' }),
    ) as [number, number, number];
    const key = JSON.stringify([device, clinic, axisClass]);
    const old = cells.get(key) ?? { device, clinic, axisClass, n: 0, sums: [0, 0, 0], squares: [0, 0, 0] };
    const plus = (from: readonly number[], of: (part: number) => number) =>
      from.map((value, i) => value + of(parts[i] as number)) as [number, number, number];
    cells.set(key, {
      ...old,
      n: old.n + 1,
      sums: plus(old.sums, (part) => part),
      squares: plus(old.squares, (part) => part * part),
    });
  });
  return [...cells.values()];
}

/**
 * Learns what achieved refraction differs from predicted by, shared out between device, clinic and axis class. Few
 * eyes move it little: each part is believed to be near 0 until eyes say otherwise.
 * Throws CalculationError for a trust that cannot be.
 * @source conjugate normal linear model with random effects: Gelman et al., Bayesian Data Analysis, 3rd ed. (from memory)
 * @example learnOffsets(offsetCells(errors)).cells.length
 */
export function learnOffsets(
  cells: readonly OffsetCell[],
  trust: OffsetTrust = DEFAULT_OFFSET_TRUST,
): LearnedOffsets {
  requireOffsetTrust(trust);
  const names = Object.fromEntries(
    OFFSET_SIDES.map((side) => [side, [...new Set(cells.map((cell) => cell[side]))].sort()]),
  ) as unknown as LearnedOffsets['names'];
  const component = (part: 0 | 1 | 2): LearnedRegression => {
    const width = 1 + OFFSET_SIDES.reduce((sum, side) => sum + names[side].length, 0);
    const eyeD = trust.eyeD[part];
    const sds = Array.from({ length: width }, (_, i) => (i === 0 ? trust.sharedD : trust.sideD));
    const shape = trust.spreadWorthEyes / 2;
    return learnRegression(
      {
        mean: sds.map(() => 0),
        precision: sds.map((sd, i) => sds.map((_, j) => (i === j ? (eyeD / sd) ** 2 : 0))),
        shape,
        rate: shape * eyeD ** 2,
      },
      sumsOf(cells, names, width, part),
    );
  };
  return { cells, names, components: [component(0), component(1), component(2)] };
}

function requireOffsetTrust(trust: OffsetTrust): void {
  const sd = { min: 0.001, max: 10, unit: 'D' };
  requireNumber('trust.sharedD', trust.sharedD, sd);
  requireNumber('trust.sideD', trust.sideD, sd);
  trust.eyeD.forEach((value, i) => requireNumber(`trust.eyeD[${i}]`, value, sd));
  requireNumber('trust.spreadWorthEyes', trust.spreadWorthEyes, { min: 3, max: 10_000, unit: 'eyes' });
}

/** 1 for all eyes, then 1 for the own device, clinic and class; a side that is left out stays 0. */
function columns(names: LearnedOffsets['names'], at: Partial<OffsetPlace>, shared: 0 | 1): number[] {
  return [shared, ...OFFSET_SIDES.flatMap((side) => names[side].map((name) => Number(name === at[side])))];
}

function sumsOf(
  cells: readonly OffsetCell[],
  names: LearnedOffsets['names'],
  width: number,
  part: 0 | 1 | 2,
): RegressionSums {
  const xx = Array.from({ length: width }, () => new Array<number>(width).fill(0));
  const xy = new Array<number>(width).fill(0);
  let [n, yy] = [0, 0];
  for (const cell of cells) {
    const x = columns(names, cell, 1);
    x.forEach((a, i) => {
      xy[i] = (xy[i] as number) + a * cell.sums[part];
      const line = xx[i] as number[];
      x.forEach((b, j) => (line[j] = (line[j] as number) + cell.n * a * b));
    });
    n += cell.n;
    yy += cell.squares[part];
  }
  return { n, xx, xy, yy };
}

/**
 * Every offset that was learned: of all eyes, then what each device, clinic and class adds to it.
 * Throws nothing that learning has not thrown before.
 * @source Gelman et al., Bayesian Data Analysis, 3rd ed. (from memory)
 * @example offeredOffsets(learned).filter(({ beyondDoubt }) => beyondDoubt)
 */
export function offeredOffsets(learned: LearnedOffsets): OfferedOffset[] {
  const { cells, names } = learned;
  const count = (of: readonly OffsetCell[]): number => of.reduce((sum, { n }) => sum + n, 0);
  const all = offered(learned, columns(names, {}, 1), { of: 'all', name: '', n: count(cells) });
  return [
    all,
    ...OFFSET_SIDES.flatMap((side) =>
      names[side].map((name) =>
        offered(learned, columns(names, { [side]: name }, 0), {
          of: side,
          name,
          n: count(cells.filter((cell) => cell[side] === name)),
        }),
      ),
    ),
  ];
}

/**
 * The whole offset of one place, for a surgeon to take or leave: what all eyes share and what its device, clinic and
 * class add. A device, clinic or class that was not seen adds nothing. Throws CalculationError when no eye was seen.
 * @source Gelman et al., Bayesian Data Analysis, 3rd ed. (from memory)
 * @example offsetAt(learned, { device: 'phoropter', clinic: 'A', axisClass: 'with' }).mean.estimateD
 */
export function offsetAt(learned: LearnedOffsets, place: OffsetPlace): OfferedOffset {
  const { cells, names } = learned;
  if (cells.length === 0) throw new CalculationError('input.missing', 'cells', 0, 'at least one eye');
  const n = cells
    .filter((cell) => OFFSET_SIDES.every((side) => cell[side] === place[side]))
    .reduce((sum, cell) => sum + cell.n, 0);
  const name = OFFSET_SIDES.map((side) => place[side]).join(', ');
  return offered(learned, columns(names, place, 1), { of: 'place', name, n });
}

function offered(
  { components }: LearnedOffsets,
  x: readonly number[],
  about: Pick<OfferedOffset, 'of' | 'name' | 'n'>,
): OfferedOffset {
  const [mean, j0, j45] = components.map((component) => estimate(component, x)) as [
    OffsetEstimate,
    OffsetEstimate,
    OffsetEstimate,
  ];
  const beyondDoubt = [mean, j0, j45].some(({ lowD, highD }) => lowD > 0 || highD < 0);
  return { ...about, mean, j0, j45, beyondDoubt };
}

function estimate(component: LearnedRegression, x: readonly number[]): OffsetEstimate {
  const { mean, scale, degreesOfFreedom } = predictRegression(component, x);
  // A prediction is of an eye; what is wanted is the offset alone, without the eye's own spread.
  const sd = Math.sqrt(Math.max(0, scale ** 2 - component.rate / component.shape));
  const reach = studentQuantile(0.975, degreesOfFreedom) * sd;
  return { estimateD: mean, lowD: mean - reach, highD: mean + reach };
}
