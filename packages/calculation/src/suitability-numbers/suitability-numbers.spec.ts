import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { sphereCylinders } from '../../../../tests/support/arbitrary-eyes.js';
import { refusal } from '../../../../tests/support/refusal.js';
import {
  axisAgreement,
  chiSquare3Above,
  expectedLinesLost,
  plusForm,
  READING_NOISE,
  readingStability,
  refractionChange,
  refractionStability,
} from '../index.js';

const refraction = { sphereD: -8, cylinderD: -4, axisDeg: 30 };

describe('χ² with three degrees of freedom', () => {
  it('agrees with a statistics library', () => {
    for (const value of [0, 0.1, 1, 3, 7.8, 20, 60]) {
      expect(chiSquare3Above(value)).toBeCloseTo(1 - jstat.chisquare.cdf(value, 3), 9);
    }
    expect(chiSquare3Above(1e6)).toBe(0);
  });
});

describe('the change between two refractions', () => {
  it('is judged against noise, not by its size alone', () => {
    const later = { ...refraction, sphereD: -9.5 };
    expect(refractionChange(refraction, later).beyondNoise).toBe(false);
    expect(refractionChange(refraction, later, undefined, [4, 4]).beyondNoise).toBe(true);
    expect(refractionChange(refraction, { ...refraction, sphereD: -11 }).beyondNoise).toBe(true);
  });

  it('is nothing between two forms of the same refraction', () => {
    fc.assert(
      fc.property(sphereCylinders, (value) => {
        const change = refractionChange(value, plusForm(value));
        expect(change.lengthD).toBeLessThan(1e-12);
        expect(change.chanceByNoise).toBeCloseTo(1, 9);
      }),
    );
  });

  it('is refused with noise that cannot be', () => {
    const noise = { meanD: 0, j0D: 0.3, j45D: 0.3 };
    expect(refusal(() => refractionChange(refraction, refraction, noise)).field).toBe('noise.meanD');
    expect(refusal(() => refractionChange(refraction, refraction, undefined, [0, 1])).field).toBe(
      'counts[0]',
    );
  });
});

describe('stability over visits', () => {
  const visits = (...points: [number, number][]) =>
    points.map(([day, sphereD]) => ({ day, refraction: { ...refraction, sphereD } }));

  it('is stable, changing, or cannot be told', () => {
    expect(refractionStability(visits([0, -8], [200, -8.25])).verdict).toBe('stable');
    expect(refractionStability(visits([0, -8], [200, -11])).verdict).toBe('changing');
    expect(refractionStability(visits([0, -8])).verdict).toBe('not-enough-data');
    expect(refractionStability(visits([0, -8], [90, -8])).verdict).toBe('not-enough-data');
  });

  it('does not call it stable where noise would have hidden a change', () => {
    const wide = { meanD: 2.06, j0D: 0.49, j45D: 0.49 };
    const answer = refractionStability(visits([0, -8], [200, -8]), wide);
    expect(answer.verdict).toBe('not-enough-data');
    expect(answer.detectable).toBeGreaterThan(2);
  });

  it('sees a turning axis though the sphere stays', () => {
    const turning = [0, 200, 400].map((day) => ({
      day,
      refraction: { ...refraction, axisDeg: 30 + day / 12 },
    }));
    expect(refractionStability(turning).verdict).toBe('changing');
  });

  it('judges Kmax the same way', () => {
    const kmax = (...points: [number, number][]) => points.map(([day, value]) => ({ day, value }));
    expect(readingStability(kmax([0, 54], [365, 60]), READING_NOISE.kmaxD).verdict).toBe('changing');
    expect(readingStability(kmax([0, 54], [365, 54.5]), READING_NOISE.kmaxD).verdict).toBe('not-enough-data');
    expect(readingStability(kmax([0, 54], [10, 54], [365, 54], [375, 54]), READING_NOISE.kmaxD).verdict).toBe(
      'stable',
    );
  });

  it('is refused with a day or value that cannot be', () => {
    expect(refusal(() => readingStability([{ day: NaN, value: 50 }], 1)).field).toBe('visits[0].day');
    expect(refusal(() => readingStability([{ day: 0, value: Infinity }], 1)).field).toBe('visits[0].value');
  });
});

describe('the agreement of axes', () => {
  const at = (cylinderD: number, axisDeg: number) => ({ sphereD: -8, cylinderD, axisDeg, vertexMm: 12 });
  const cornea = { flatD: 46, steepD: 50, steepAxisDeg: 120 };

  it('is full where the correcting cylinder lies along the flat meridian', () => {
    const answer = axisAgreement(at(-4, 30), cornea);
    expect(answer.differenceDeg).toBeCloseTo(0, 9);
    expect(answer.verdict).toBe('agree');
  });

  it('differs where the angle is beyond noise and worth something', () => {
    expect(axisAgreement(at(-4, 70), cornea).verdict).toBe('differ');
    expect(axisAgreement(at(-4, 70), cornea).weightD).toBeGreaterThan(1);
  });

  it('gives the same angle less weight with less cylinder', () => {
    const strong = axisAgreement(at(-4, 45), cornea);
    const weak = axisAgreement(at(-1, 45), cornea);
    expect(weak.weightD).toBeLessThan(strong.weightD);
    expect(weak.noiseDeg).toBeGreaterThan(strong.noiseDeg);
    expect(weak.verdict).toBe('agree');
    expect(axisAgreement(at(0, 0), cornea).verdict).toBe('no-axis');
  });

  it('counts the short way across 180°', () => {
    const answer = axisAgreement(at(-4, 178), { ...cornea, steepAxisDeg: 93 });
    expect(answer.differenceDeg).toBeCloseTo(-5, 9);
  });
});

describe('lines lost', () => {
  it('are the tenths of logMAR between spectacles and contact lens', () => {
    expect(expectedLinesLost({ spectaclesLogMar: 0.3, contactLensLogMar: 0 })).toEqual({
      lines: 3,
      expectedLogMar: 0.3,
    });
    expect(expectedLinesLost({ spectaclesLogMar: 0, contactLensLogMar: 0.1 }).lines).toBe(-1);
  });

  it('are refused for an acuity that cannot be', () => {
    expect(refusal(() => expectedLinesLost({ spectaclesLogMar: 9, contactLensLogMar: 0 })).field).toBe(
      'spectaclesLogMar',
    );
  });
});
