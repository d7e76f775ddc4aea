import { describe, expect, it } from 'vitest';
import { cornealSagittaMm, lensArc, lensBand, sectionOf } from './cross-section';

const input = {
  meanKeratometryD: 48,
  cornealThicknessUm: 462,
  depthMm: 3.21,
  widthMm: 11.9,
  lensRiseUm: null,
};

/** The height of a quadratic arc in its middle: half way between its end and its control point. */
function middleY(path: string): number {
  const [, , y0, , , cy] = /M (\S+) (\S+) Q (\S+) (\S+)/.exec(path)?.flatMap((v) => [v]) ?? [];
  const numbers = path.match(/-?\d+(\.\d+)?/g)?.map(Number) ?? [];
  expect(y0 ?? cy).toBeDefined();
  return ((numbers[1] ?? NaN) + (numbers[3] ?? NaN)) / 2;
}

describe('the cross-section', () => {
  it('keeps the vault to scale', () => {
    const section = sectionOf(input);
    const at = (vaultUm: number) => section.apexY - middleY(lensArc(section, 12.5, vaultUm, null));
    expect(at(490) / section.pxPerMm).toBeCloseTo(0.49, 2);
    expect(at(0)).toBeCloseTo(0, 1);
  });

  it('keeps the chamber to scale', () => {
    const section = sectionOf(input);
    const deeper = sectionOf({ ...input, depthMm: 3.71 });
    expect((deeper.apexY - section.apexY) / section.pxPerMm).toBeCloseTo(0.5, 2);
  });

  it('draws the central radius of the cornea truly', () => {
    expect(cornealSagittaMm(45, 1)).toBeCloseTo(1 / (2 * 7.5), 2);
  });

  it.each([35, 48, 62, 85])('stays a number for a cornea of %d D', (meanKeratometryD) => {
    const section = sectionOf({ ...input, meanKeratometryD, widthMm: 12.6 });
    expect(JSON.stringify(section)).not.toMatch(/null|NaN/);
    expect(lensBand(section, 13.5, 100, 900, 300)).not.toContain('NaN');
  });
});
