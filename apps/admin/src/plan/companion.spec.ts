import { describe, expect, it } from 'vitest';
import type { DesignSheet } from '@lensferry/contracts';
import { companionOf } from './companion';

const settings = {
  fromChance: 0.15,
  restockingShare: 0.2,
  explantedCreditShare: 0,
  secondOperation: 1500,
  waitingPerDay: 15,
  seenInTheatreShare: 0.25,
};
const sheet = {
  lengthsMm: [12, 12.25, 12.5],
  highCylinderFromD: 4,
  quotedWorkingDays: { stocked: 5, made: 20, high: 30 },
  price: { base: '1000.00', highCylinder: '1400.00' },
} as unknown as DesignSheet;

describe('a smaller lens beside the one in hand', () => {
  it('takes the next smaller size, the price of the power and the time that its making is quoted for', () => {
    const found = companionOf(settings, sheet, { cylinderD: -4, lengthMm: 12.5 }, 0.4)!;
    expect(found).toMatchObject({ lengthMm: 12.25, waitDays: 42 });
    expect(found.judged.alone.ifFits).toBe(1400);
    expect(found.judged.alone.ifTooLarge).toBe(1400 + 1400 + 1500 + 42 * 15);
    expect(companionOf(settings, sheet, { cylinderD: -3.5, lengthMm: 12.5 }, 0.4)!.judged.alone.ifFits).toBe(
      1000,
    );
  });

  it('is none beside the shortest size or one that is not made, and not proposed without a chance', () => {
    expect(companionOf(settings, sheet, { cylinderD: -4, lengthMm: 12 }, 0.4)).toBeNull();
    expect(companionOf(settings, sheet, { cylinderD: -4, lengthMm: 12.6 }, 0.4)).toBeNull();
    expect(companionOf(settings, sheet, { cylinderD: -4, lengthMm: 12.5 }, 0)!.judged.proposed).toBe(false);
  });
});
