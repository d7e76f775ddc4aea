import { describe, expect, it } from 'vitest';
import {
  addWorkingDays,
  arrivalQuantile,
  awaitedAfter,
  logRank,
  productLimit,
  restrictedMeanDays,
  type LeadTimeRecord,
} from '../../packages/calculation/src/leadtime/index.js';

const arrived = (workingDays: number): LeadTimeRecord => ({ workingDays, outcome: 'arrived' });
const open = (workingDays: number): LeadTimeRecord => ({ workingDays, outcome: 'open' });

const treated = [6, 6, 6, 7, 10, 13, 16, 22, 23]
  .map(arrived)
  .concat([6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35].map(open)); // Freireich et al., Blood 1963;21:699-716, 6-MP arm
const placebo = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23].map(arrived); // Freireich et al., Blood 1963;21:699-716, placebo arm

describe("Freireich's remission times, as R's survival package prints them", () => {
  const curve = productLimit(treated);

  it.each([
    [6, 0.857143], // R survival 3.5-3, survfit
    [7, 0.806723], // R survival 3.5-3, survfit
    [10, 0.752941], // R survival 3.5-3, survfit
    [13, 0.690196], // R survival 3.5-3, survfit
    [16, 0.627451], // R survival 3.5-3, survfit
    [22, 0.537815], // R survival 3.5-3, survfit
    [23, 0.448179], // R survival 3.5-3, survfit
  ])('after %i the share still awaited is %f', (day, share) => {
    expect(awaitedAfter(curve, day)).toBeCloseTo(share, 6);
  });

  it.each([
    [6, 0.07636, 0.619718, 0.951552], // R survival 3.5-3, std.err and conf.type = "log-log"
    [22, 0.128234, 0.267779, 0.746791], // R survival 3.5-3, std.err and conf.type = "log-log"
  ])('on %i the Greenwood error is %f with log-log limits %f to %f', (day, se, low, high) => {
    const step = curve.steps.find((one) => one.day === day);
    expect(step?.standardError).toBeCloseTo(se, 6);
    expect(step?.low).toBeCloseTo(low, 6);
    expect(step?.high).toBeCloseTo(high, 6);
  });

  it.each([
    [0.1, 6], // R survival 3.5-3, quantile.survfit
    [0.25, 13], // R survival 3.5-3, quantile.survfit
    [0.5, 23], // R survival 3.5-3, quantile.survfit
    [0.75, null], // R survival 3.5-3, quantile.survfit: NA
    [0.9, null], // R survival 3.5-3, quantile.survfit: NA
  ])('the quantile %f of the treated arm is %s', (p, day) => expect(arrivalQuantile(curve, p)).toBe(day));

  it.each([
    [0.1, 2], // R survival 3.5-3, quantile.survfit
    [0.25, 4], // R survival 3.5-3, quantile.survfit
    [0.5, 8], // R survival 3.5-3, quantile.survfit
    [0.75, 12], // R survival 3.5-3, quantile.survfit
    [0.9, 17], // R survival 3.5-3, quantile.survfit
  ])('the quantile %f of the placebo arm is %i', (p, day) => {
    expect(arrivalQuantile(productLimit(placebo), p)).toBe(day);
  });

  it('has the restricted mean to 35', () => {
    expect(restrictedMeanDays(curve, 35)).toBeCloseTo(23.287395, 6); // R survival 3.5-3, print(rmean = 35)
  });

  it('has the log-rank statistic and its p', () => {
    const test = logRank([treated, placebo]);
    expect(test.chiSquare).toBeCloseTo(16.792941, 6); // R survival 3.5-3, survdiff
    expect(test.p / 4.16881e-5).toBeCloseTo(1, 5); // R survival 3.5-3, survdiff
    expect(test.groups[0]?.observed).toBe(9); // R survival 3.5-3, survdiff
    expect(test.groups[0]?.expected).toBeCloseTo(19.25, 2); // R survival 3.5-3, survdiff prints 19.3
  });
});

describe('working days across holidays', () => {
  it('counts five from 30 March 2026 in Bavaria over Easter', () => {
    const bavaria = new Set(['2026-04-03', '2026-04-06']); // Bavarian public holidays act: Good Friday, Easter Monday
    expect(addWorkingDays('2026-03-30', 5, bavaria)).toBe('2026-04-08'); // calendar
  });

  it('counts ten from 22 December 2026 in Bavaria over the turn of the year', () => {
    const bavaria = new Set(['2026-12-25', '2026-12-26', '2027-01-01', '2027-01-06']); // Bavarian public holidays act
    expect(addWorkingDays('2026-12-22', 10, bavaria)).toBe('2027-01-08'); // calendar
  });
});
