import { describe, expect, it } from 'vitest';
import { numberFormatOf } from './numbers';

describe('numbers of the trade', () => {
  const en = numberFormatOf('en');
  const de = numberFormatOf('de');

  it('writes a lens with true minus signs and × before its axis', () => {
    expect(en.lens({ sphereD: -9.25, cylinderD: -4.75, axisDeg: 32 })).toBe('−9.25 / −4.75 × 32');
    expect(de.lens({ sphereD: -9.25, cylinderD: -4.75, axisDeg: 32 })).toBe('−9,25 / −4,75 × 32');
  });

  it('writes no axis without a cylinder and 180 for an axis of 0', () => {
    expect(en.lens({ sphereD: 0.5, cylinderD: 0, axisDeg: null })).toBe('+0.50');
    expect(en.lens({ sphereD: 1, cylinderD: -2, axisDeg: 0 })).toBe('+1.00 / −2.00 × 180');
    expect(en.lens({ sphereD: 1, cylinderD: -2, axisDeg: 179.7 })).toBe('+1.00 / −2.00 × 180');
  });

  it('has no negative zero', () => {
    expect(en.dioptres(-0.001)).toBe('0.00\u202fD');
  });

  it('puts a thin space before a unit, and none before a degree sign', () => {
    expect(en.mm(12.5)).toBe('12.50\u202fmm');
    expect(en.um(489.6)).toBe('490\u202fµm');
    expect(en.percent(0.38)).toBe('38\u202f%');
    expect(en.withUnit(-3, 'D')).toBe('−3\u202fD');
    expect(en.withUnit(32, '°')).toBe('32°');
  });
});
