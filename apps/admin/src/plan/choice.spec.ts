import { describe, expect, it } from 'vitest';
import type { PlanChoice, PlanRecord } from '@lensferry/contracts';
import { changesSince, stepped, steppedAxis } from './choice';

describe('choosing a lens', () => {
  it('steps a power by what the maker makes and stops at its ends', () => {
    const range = { minD: -10, maxD: 0, stepD: 0.25 };
    expect(stepped(-4.5, range, -1)).toBe(-4.75);
    expect(stepped(-10, range, -1)).toBe(-10);
  });

  it('turns an axis round from 180 to 1 and back, never to 0', () => {
    expect(steppedAxis(180, { policy: 'any', stepDeg: 1 }, 1)).toBe(1);
    expect(steppedAxis(1, { policy: 'any', stepDeg: 1 }, -1)).toBe(180);
    expect(steppedAxis(90, { policy: 'fixed', axesDeg: [90, 180], maximumTurnDeg: 22 }, 1)).toBe(180);
  });

  it('says what differs from the last plan', () => {
    const target = { sphereD: 0, cylinderD: 0, axisDeg: null };
    const choice: PlanChoice = {
      target,
      designVersionId: 'a',
      sphereD: -9,
      cylinderD: -4,
      axisDeg: 30,
      lengthMm: 12.5,
    };
    const last = { choice: { ...choice, lengthMm: 13 } } as PlanRecord;
    expect(changesSince(last, choice)).toEqual([{ field: 'lengthMm', before: 13, after: 12.5 }]);
    expect(changesSince(undefined, choice)).toEqual([]);
  });
});
