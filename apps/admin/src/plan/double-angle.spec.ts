import { describe, expect, it } from 'vitest';
import { doubleAngleOf } from './double-angle';

const plano = { sphereD: 0, cylinderD: 0, axisDeg: null };

describe('the double-angle plot', () => {
  it('puts 180° to the right, 45° up, 90° to the left and 135° down', () => {
    const at = (axisDeg: number) =>
      doubleAngleOf([], { sphereD: 0, cylinderD: -1, axisDeg }, plano, 100).predicted;
    expect(at(180).x).toBeCloseTo(100);
    expect(at(45).y).toBeCloseTo(-100);
    expect(at(90).x).toBeCloseTo(-100);
    expect(at(135).y).toBeCloseTo(100);
  });

  it('chooses a round scale that holds most of the cloud', () => {
    const cloud = Array.from({ length: 100 }, (_, i) => ({ meanD: 0, j0D: i / 100, j45D: 0 }));
    const plot = doubleAngleOf(cloud, plano, plano, 100);
    expect(plot.rings.at(-1)?.cylinderD).toBe(2);
    expect(plot.cloud).toHaveLength(100);
    expect(plot.target).toEqual({ x: 0, y: 0 });
  });
});
