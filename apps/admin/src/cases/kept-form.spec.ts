import { describe, expect, it } from 'vitest';
import { keptForm } from './kept-form';

describe('the kept form of a refraction', () => {
  it('turns a plus cylinder into a minus cylinder', () => {
    expect(keptForm(-12, 4, 120)).toEqual({ sphereD: -8, cylinderD: -4, axisDeg: 30 });
  });
  it('has no axis without a cylinder', () => {
    expect(keptForm(-2, 0)).toEqual({ sphereD: -2, cylinderD: 0, axisDeg: null });
  });
  it('waits until it is complete and possible', () => {
    expect(keptForm(-2, -1)).toBeNull();
    expect(keptForm(Number.NaN, -1, 10)).toBeNull();
    expect(keptForm(-2, -1, 181)).toBeNull();
  });
});
