import { outcomeReport, type OutcomeEye } from '@lensferry/calculation';
import type { OutcomeReport } from '@lensferry/contracts';
import { describe, expect, it } from 'vitest';
import { figures, reportParts } from './figure-registry';
import { sayIn } from './figure-samples';
import { binText } from './say';
import { alongScale, dotsPath, linesOf, upScale, wordsCollide } from './scales';

const say = sayIn('en');

const eyes: OutcomeEye[] = Array.from({ length: 12 }, (_, i) => ({
  id: `eye-${i}`,
  patient: `patient-${i >> 1}`,
  before: {
    refraction: { sphereD: -6 - i / 4, cylinderD: -3 - i / 8, axisDeg: (i * 31) % 180, vertexMm: 12 },
    correctedLogMar: 0.2,
  },
  target: { sphereD: 0, cylinderD: 0, axisDeg: 0 },
  visits: [91, 365].map((daysAfter) => ({
    daysAfter,
    refraction: { sphereD: i === 0 ? -2 : 0, cylinderD: -0.5, axisDeg: 20, vertexMm: 12 },
    correctedLogMar: i === 0 ? 0.3 : 0.1,
    uncorrectedLogMar: 0.2,
    vaultUm: 400 + i * 20,
  })),
}));
const report = (of: OutcomeEye[]) =>
  ({
    figures: outcomeReport(of, { minimumDays: 350 }),
    references: {
      withinHalfD: 0.8,
      withinOneD: 0.9,
      lostALine: 0.1,
      followUpMonthsAtLeast: 12,
      vaultBand: { lowBelowUm: 250, highAboveUm: 750 },
      source: '',
    },
  }) as OutcomeReport;
const all = (of: OutcomeEye[]) => reportParts.flatMap((part) => figures[part](say, report(of)));

describe('the figures of a report', () => {
  it('are all the standard ones, each with finding, basis and table', () => {
    const drawn = all(eyes);
    expect(drawn.map(({ id }) => id)).toEqual([
      'cumulative-acuity',
      'unaided-against-spectacles',
      'lines-changed',
      'attempted-achieved',
      'accuracy',
      'stability',
      'cylinder',
      'intended-induced',
      'angle-of-error',
      'astigmatism-before',
      'astigmatism-after',
      'vault',
    ]);
    for (const { finding, basis, table } of drawn) {
      expect(finding).not.toMatch(/undefined|NaN|%\{/);
      expect(basis).toContain('12 eyes');
      expect(table.rows.length).toBeGreaterThan(0);
      for (const row of table.rows) expect(row).toHaveLength(table.head.length);
    }
  });

  it('say what was found', () => {
    const finding = (id: string) => all(eyes).find((figure) => figure.id === id)?.finding;
    expect(finding('accuracy')).toContain('within 0.50 D');
    expect(finding('accuracy')?.replaceAll('\u202f', ' ')).toMatch(/^92 % \(65–99 %\) within 0\.50 D/);
    expect(finding('lines-changed')?.replaceAll('\u202f', ' ')).toMatch(/^8 % \(1–35 %\) lost a line/);
    expect(finding('stability')).toContain('moved by more than 0.50 D');
  });

  it('mark the reference lines as having no source', () => {
    const accuracy = all(eyes).find(({ id }) => id === 'accuracy');
    expect(accuracy?.notes.join(' ')).toContain('Common practice, no source');
  });

  it('leave out what cannot be drawn, and never fail for one eye or none', () => {
    expect(all([])).toEqual([]);
    for (const { finding } of all(eyes.slice(0, 1))) expect(finding).not.toMatch(/undefined|NaN/);
  });
});

describe('drawing', () => {
  it('puts thousands of points into one path', () => {
    expect(
      dotsPath([
        { x: 1.234, y: 5 },
        { x: 2, y: 3 },
      ]),
    ).toBe('M1.2 5h0M2 3h0');
  });

  it('keeps all values inside the picture, the larger one higher', () => {
    const y = upScale([-3.2, 7.9], false);
    expect(y(7.9)).toBeLessThan(y(-3.2));
    expect(y(7.9)).toBeGreaterThanOrEqual(14);
    expect(alongScale([5, 5])(5)).toBeGreaterThan(52);
  });

  it('names open bars by their only limit', () => {
    expect(binText(say, { from: null, to: -1.5 })).toBe('< −1.5');
    expect(binText(say, { from: 1.5, to: null })).toBe('> 1.5');
  });

  it('lets words under bars stand in two rows before they collide', () => {
    expect(wordsCollide(['−0.5…−0.13', '0'], 48)).toBe(true);
    expect(wordsCollide(['low', 'high'], 48)).toBe(false);
  });

  it('breaks a long title between words', () => {
    expect(linesOf('seventy of a hundred eyes', 14)).toEqual(['seventy of a', 'hundred eyes']);
  });
});
