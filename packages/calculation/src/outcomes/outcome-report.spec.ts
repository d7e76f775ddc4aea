import fc from 'fast-check';
import { jStat } from 'jstat';
import { describe, expect, it } from 'vitest';
import { CalculationError } from '../calculation-error.js';
import { dice, dicedNormals } from '../learning/dice.js';
import { binSigned, binUp } from './bins.js';
import { compareGroups } from './compare-groups.js';
import { judgeEye, judgeEyes, type OutcomeEye } from './outcome-eye.js';
import { outcomeReport } from './outcome-report.js';
import { scheduledVisits, visitStandings } from './visit-schedule.js';

const plano = { sphereD: 0, cylinderD: 0, axisDeg: 0 };

/** An eye of -8.00/-4.00 x 30 whose lens left `sphereD` and a cylinder. */
function eyeWith(id: string, sphereD: number, cylinderD: number, more: Partial<OutcomeEye> = {}): OutcomeEye {
  return {
    id,
    patient: id,
    before: {
      refraction: { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12 },
      correctedLogMar: 0.1,
      uncorrectedLogMar: 1.3,
    },
    target: plano,
    visits: [
      { daysAfter: 1, uncorrectedLogMar: 0.3 },
      {
        daysAfter: 30,
        refraction: { sphereD: sphereD - 0.25, cylinderD, axisDeg: 30, vertexMm: 12 },
        vaultUm: 520,
      },
      {
        daysAfter: 365,
        refraction: { sphereD, cylinderD, axisDeg: 30, vertexMm: 12 },
        correctedLogMar: 0,
        uncorrectedLogMar: 0.1,
        vaultUm: 480,
      },
    ],
    ...more,
  };
}

/** Many eyes by dice, with what journals ask for. */
export function dicedEyes(count: number, seed: number): OutcomeEye[] {
  const [roll, normal] = [dice(seed), dicedNormals(seed + 1)];
  const quarter = (value: number): number => Math.round(value * 4) / 4;
  return Array.from({ length: count }, (_, i) => {
    const axisDeg = Math.floor(roll() * 180);
    const corrected = Math.round(roll() * 3) / 10;
    return eyeWith(`eye-${seed}-${i}`, quarter(normal() * 0.4), -quarter(roll() * 1.5), {
      before: {
        refraction: {
          sphereD: quarter(-4 - roll() * 8),
          cylinderD: quarter(-2.5 - roll() * 4),
          axisDeg,
          vertexMm: 12,
        },
        correctedLogMar: corrected,
      },
    });
  });
}

describe('an eye in a report', () => {
  it('is judged by its latest refraction that is late enough', () => {
    const eye = eyeWith('a', -0.25, -0.5);
    expect(judgeEye(eye, 0)?.visit.daysAfter).toBe(365);
    expect(judgeEye(eye, 366)).toBeNull();
    const judged = judgeEye(eye, 365);
    expect(judged).toMatchObject({ attemptedD: 10, achievedD: 9.5, errorD: -0.5, cylinderAfterD: 0.5 });
    expect(judged?.vectors.indices?.angleOfErrorDeg).toBeCloseTo(0, 6);
  });

  it('is refused when a number cannot be, or when it comes twice', () => {
    const eye = eyeWith('a', 0, 0);
    const bad = { ...eye, visits: [{ daysAfter: -1 }] };
    expect(() => judgeEye(bad, 0)).toThrow(CalculationError);
    expect(() => judgeEye({ ...eye, before: { ...eye.before, correctedLogMar: 9 } }, 0)).toThrow(
      CalculationError,
    );
    expect(() => judgeEyes([eye, eye], 0)).toThrow(CalculationError);
    expect(() => judgeEye(eye, Number.NaN)).toThrow(CalculationError);
  });
});

describe('a report', () => {
  const eyes = [
    eyeWith('a', 0, 0),
    eyeWith('b', 0.5, -0.5, { patient: 'a' }),
    eyeWith('c', -0.75, -0.5),
    eyeWith('d', -1, -1),
    { ...eyeWith('e', 0, 0), visits: [] },
  ];
  const report = outcomeReport(eyes, { minimumDays: 180 });

  it('says how many eyes of how many patients, who is too early, and the follow-up', () => {
    expect(report).toMatchObject({ eyes: 4, patients: 3, tooEarly: 1, minimumDays: 180 });
    expect(report.followUpDays?.median).toBe(365);
  });

  it('counts accuracy, and who got too little or too much', () => {
    const within = Object.fromEntries(
      report.accuracy?.within.map(({ within: d, count }) => [d, count]) ?? [],
    );
    expect(within).toEqual({ 0.25: 2, 0.5: 2, 1: 3, 2: 4 });
    expect(report.attemptedAchieved?.under.count).toBe(2);
    expect(report.attemptedAchieved?.over.count).toBe(0);
  });

  it('counts lines, cylinders, vaults and acuity', () => {
    expect(report.linesChanged?.rows.find(({ lines }) => lines === 1)?.count).toBe(4);
    expect(report.linesChanged?.lostOne.count).toBe(0);
    expect(report.uncorrectedAgainstCorrected?.sameOrBetter.share).toBe(1);
    expect(report.cylinder?.withinAfter.map(({ count }) => count)).toEqual([1, 3, 4, 4]);
    expect(report.vault).toMatchObject({ n: 4, intended: { count: 4 } });
    expect(report.safetyIndex?.estimate).toBeCloseTo(10 ** 0.1, 9);
    expect(report.efficacyIndex?.estimate).toBeCloseTo(1, 9);
  });

  it('shows stability by scheduled visit, before first', () => {
    expect(report.stability?.rows.map(({ code, n }) => [code, n])).toEqual([
      ['before', 5],
      ['month-1', 4],
      ['month-12', 4],
    ]);
  });

  it('leaves out what no eye has, and never holds a number that is none', () => {
    const none = outcomeReport([], { minimumDays: 0 });
    expect(none).toMatchObject({ eyes: 0, accuracy: null, stability: null, vault: null, safetyIndex: null });
    expect(JSON.stringify(outcomeReport(dicedEyes(40, 3), { minimumDays: 0 }))).not.toMatch(/NaN|Infinity/);
  });

  it('has the regression that jStat fits', () => {
    const many = outcomeReport(dicedEyes(60, 11), { minimumDays: 0 });
    for (const figure of [many.attemptedAchieved, many.intendedInduced]) {
      const points = figure?.points ?? [];
      const model = jStat.models.ols(
        points.map(({ y }) => y),
        points.map(({ x }) => [1, x]),
      );
      expect(figure?.line?.slope).toBeCloseTo(model.coef[1] as number, 6);
      expect(figure?.line?.intercept).toBeCloseTo(model.coef[0] as number, 6);
      expect(figure?.line?.rSquared).toBeCloseTo(model.R2, 6);
    }
  });

  it('adds up: every bar chart holds each eye once', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 999 }), (count, seed) => {
        const all = outcomeReport(dicedEyes(count, seed), { minimumDays: 0 });
        const sum = (bins: readonly { count: number }[] = []) =>
          bins.reduce((total, bin) => total + bin.count, 0);
        expect(sum(all.accuracy?.bins)).toBe(count);
        expect(sum(all.cylinder?.before)).toBe(count);
        expect(sum(all.cylinder?.after)).toBe(count);
        expect(sum(all.angleOfError?.bins)).toBe(all.angleOfError?.n);
        expect(sum(all.linesChanged?.rows)).toBe(count);
        expect(sum(all.uncorrectedAgainstCorrected?.bins)).toBe(count);
      }),
      { numRuns: 12 },
    );
  });
});

describe('bars', () => {
  it('mirror each other about 0, and a limit belongs to the inner one', () => {
    const bins = binSigned([-2, -1, -0.5, -0.1, 0, 0.1, 0.5, 0.6, 1.01], [0.5, 1]);
    expect(bins.map(({ from, to, count }) => [from, to, count])).toEqual([
      [null, -1, 1],
      [-1, -0.5, 1],
      [-0.5, 0.5, 5],
      [0.5, 1, 1],
      [1, null, 1],
    ]);
    expect(binUp([0, 0.25, 0.3, 9], [0.25, 0.5]).map(({ count }) => count)).toEqual([2, 1, 1]);
    expect(() => binUp([1], [1, 1])).toThrow(CalculationError);
    expect(() => binSigned([1], [0])).toThrow(CalculationError);
    expect(() => binSigned([], [1])).toThrow(CalculationError);
  });
});

describe('two groups', () => {
  const judged = (eyes: OutcomeEye[]) => judgeEyes(eyes, 0).judged;
  const good = judged(dicedEyes(80, 21));
  const poor = judged(
    dicedEyes(80, 22).map((eye) => ({
      ...eye,
      visits: eye.visits.map((visit) => ({
        ...visit,
        ...(visit.refraction && {
          refraction: { ...visit.refraction, sphereD: visit.refraction.sphereD - 0.75 },
        }),
      })),
    })),
  );

  it('differ where they do, with the test named and an interval for each', () => {
    const found = compareGroups(good, poor);
    const half = found.find(({ measure }) => measure === 'within-half');
    expect(half?.test).toBe("Fisher's exact test");
    expect(half?.p).toBeLessThan(0.001);
    expect(half?.first.estimate).toBeGreaterThan(half?.second.high ?? 1);
    expect(found.find(({ measure }) => measure === 'absolute-error')?.test).toContain('Mann-Whitney');
    expect(found.find(({ measure }) => measure === 'lines-gained')?.test).toContain('Welch');
  });

  it('do not differ from themselves, and swap without changing p', () => {
    for (const { p } of compareGroups(good, good)) expect(p).toBeGreaterThan(0.9);
    const [there, back] = [compareGroups(good, poor), compareGroups(poor, good)];
    there.forEach(({ p }, i) => expect(back[i]?.p).toBeCloseTo(p, 9));
  });

  it('are left alone where there is too little', () => {
    expect(compareGroups(good.slice(0, 1), poor)).toEqual([]);
  });
});

describe('the visit schedule', () => {
  it('names its visits and repeats yearly', () => {
    expect(scheduledVisits(1100).map(({ code }) => code)).toEqual([
      'day-1',
      'week-1',
      'month-1',
      'month-3',
      'month-6',
      'month-12',
      'year-2',
      'year-3',
    ]);
  });

  it('puts every day into exactly one visit', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4000 }), (day) => {
        const holding = scheduledVisits(4000).filter(({ fromDay, toDay }) => day >= fromDay && day <= toDay);
        expect(holding).toHaveLength(1);
      }),
    );
  });

  it('says what is done, overdue, missed and ahead', () => {
    const states = (today: number, on: number[]) =>
      Object.fromEntries(visitStandings(today, on).map(({ code, state }) => [code, state]));
    expect(states(0, [])).toEqual({ 'day-1': 'ahead' });
    expect(states(1, [])).toEqual({ 'day-1': 'due', 'week-1': 'ahead' });
    expect(states(40, [1, 8])).toEqual({
      'day-1': 'done',
      'week-1': 'done',
      'month-1': 'overdue',
      'month-3': 'ahead',
    });
    expect(states(200, [1, 30])).toMatchObject({
      'week-1': 'missed',
      'month-3': 'missed',
      'month-6': 'overdue',
    });
    expect(() => visitStandings(-1, [])).toThrow(CalculationError);
    expect(() => scheduledVisits(10, [7, 1])).toThrow(CalculationError);
    expect(() => scheduledVisits(10, [])).toThrow(CalculationError);
  });
});
