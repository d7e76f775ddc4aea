import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { dicedNormals } from './dice.js';
import {
  axisClassOf,
  DEFAULT_OFFSET_TRUST,
  learnOffsets,
  offeredOffsets,
  offsetAt,
  offsetCells,
  type AxisClass,
  type RefractionError,
} from './refraction-offsets.js';

const next = dicedNormals(5);
const classes: AxisClass[] = ['with', 'against', 'oblique'];

/** Eyes of two clinics and two devices; one device reads 0.40 D too much minus, nothing else is off. */
const eyes = (count: number): RefractionError[] =>
  Array.from({ length: count }, (_, i) => ({
    device: i % 2 === 0 ? 'good' : 'off',
    clinic: i % 4 < 2 ? 'A' : 'B',
    axisClass: classes[i % 3] as AxisClass,
    meanD: (i % 2 === 0 ? 0 : 0.4) + 0.5 * next(),
    j0D: 0.25 * next(),
    j45D: 0.25 * next(),
  }));

describe('offsets of refraction', () => {
  it('are found where they are, with doubt that holds', () => {
    const place = (device: string) => ({ device, clinic: 'A', axisClass: 'with' as const });
    const networks = Array.from({ length: 60 }, () => learnOffsets(offsetCells(eyes(200))));
    const holds = (device: string, truthD: number) =>
      networks.filter((learned) => {
        const { lowD, highD } = offsetAt(learned, place(device)).mean;
        return lowD <= truthD && highD >= truthD;
      }).length;
    // 95 % of 60 is 57; below 51 the limits would be too narrow by any account (binomial, 1 in 1 000).
    expect(holds('off', 0.4)).toBeGreaterThan(50);
    expect(holds('good', 0)).toBeGreaterThan(50);
    const flagged = networks.filter((learned) => offsetAt(learned, place('off')).beyondDoubt);
    expect(flagged.length).toBeGreaterThan(40);
    const adds = (name: string) =>
      networks.reduce(
        (sum, learned) =>
          sum + (offeredOffsets(learned).find((offset) => offset.name === name)?.mean.estimateD ?? 0) / 60,
        0,
      );
    expect(adds('off') - adds('good')).toBeGreaterThan(0.3);
  });

  it('are near nothing while few eyes are behind them', () => {
    const two = learnOffsets(
      offsetCells([1, 2].map(() => ({ ...(eyes(2)[1] as RefractionError), meanD: 1.5, j0D: 0, j45D: 0 }))),
    );
    const offset = offsetAt(two, { device: 'off', clinic: 'A', axisClass: 'against' });
    expect(offset.mean.estimateD).toBeLessThan(0.75);
    expect(offset.beyondDoubt).toBe(false);
  });

  it('are the same from two clinics’ cells as from all eyes together', () => {
    const all = eyes(60);
    const [a, b] = ['A', 'B'].map((clinic) => offsetCells(all.filter((eye) => eye.clinic === clinic)));
    const place = { device: 'off', clinic: 'B', axisClass: 'oblique' as const };
    const pooled = offsetAt(learnOffsets([...(b ?? []), ...(a ?? [])]), place);
    const together = offsetAt(learnOffsets(offsetCells(all)), place);
    expect(pooled.n).toBe(together.n);
    expect(pooled.mean.estimateD).toBeCloseTo(together.mean.estimateD, 9);
    expect(pooled.j0.lowD).toBeCloseTo(together.j0.lowD, 9);
  });

  it('count every eye once for all, and once for each side', () => {
    const offsets = offeredOffsets(learnOffsets(offsetCells(eyes(24))));
    const count = (of: string) =>
      offsets.filter((offset) => offset.of === of).reduce((sum, { n }) => sum + n, 0);
    expect(['all', 'device', 'clinic', 'axisClass'].map(count)).toEqual([24, 24, 24, 24]);
  });

  it('class an axis by where it lies', () => {
    const at = (axisDeg: number, cylinderD = -3) => axisClassOf({ sphereD: -6, cylinderD, axisDeg });
    expect([at(0), at(175), at(29), at(90), at(61), at(45), at(150.5)]).toEqual([
      'with',
      'with',
      'with',
      'against',
      'against',
      'oblique',
      'with',
    ]);
    expect(at(90, -0.1)).toBe('oblique');
  });

  it('refuse what cannot be, by name', () => {
    const [eye] = eyes(1) as [RefractionError];
    const refusals: (() => unknown)[] = [
      () => offsetCells([{ ...eye, meanD: Number.NaN }]),
      () => offsetCells([{ ...eye, j45D: 21 }]),
      () => learnOffsets([], { ...DEFAULT_OFFSET_TRUST, sideD: 0 }),
      () => learnOffsets([], { ...DEFAULT_OFFSET_TRUST, eyeD: [1, 1, Number.NaN] }),
      () => offsetAt(learnOffsets([]), eye),
    ];
    for (const refuse of refusals) expect(refuse).toThrow(CalculationError);
  });
});
