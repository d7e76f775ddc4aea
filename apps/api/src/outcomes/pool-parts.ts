import {
  flatSums,
  judgeEye,
  measuredVaultSums,
  missingInputs,
  powerVector,
  type JudgedEye,
  type VaultModel,
} from '@lensferry/calculation';
import { makerCalendarOf } from '../leadtimes/calendars.js';
import { recordOf } from '../leadtimes/lead-time-history.queries.js';
import { designsOnOffer } from '../plans/plans.store.js';
import { fromDate, plusDays } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import type { OperatedEye } from './operated-eyes.queries.js';
import type { PoolPart } from './pool.store.js';

/** Lead times are given by working weeks, the last one open. */
export const WEEK_DAYS = 5;
export const WEEKS = 30;
/** Refraction settles for about a month (common practice, no source). */
const FROM_DAY = 28;

interface Counted {
  readonly subject: string;
  readonly sums: readonly number[];
}

/** What the eyes and orders of the clinics at hand come to, from what had happened before a day. */
export async function poolParts(
  work: Work,
  eyes: readonly OperatedEye[],
  before: string,
): Promise<PoolPart[]> {
  return [
    ...resultParts(eyes, before),
    ...(await vaultParts(work, eyes, before)),
    ...(await leadTimeParts(work, before)),
  ];
}

function partOf(kind: PoolPart['kind'], of: string, counted: readonly Counted[]): PoolPart[] {
  if (counted.length === 0) return [];
  const sums = counted.reduce<number[]>((all, own) => own.sums.map((value, i) => (all[i] ?? 0) + value), []);
  return [
    { kind, of, eyes: counted.length, subjects: [...new Set(counted.map((one) => one.subject))], sums },
  ];
}

function resultParts(eyes: readonly OperatedEye[], before: string): PoolPart[] {
  const judged = eyes.flatMap((eye) => {
    const visits = eye.outcome.visits.filter(({ daysAfter }) => plusDays(eye.operatedOn, daysAfter) < before);
    const found = judgeEye({ ...eye.outcome, visits }, FROM_DAY);
    return found === null ? [] : [{ eye, found }];
  });
  const part = (kind: 'results' | 'refraction', sums: (one: (typeof judged)[number]) => number[]) =>
    partOf(
      kind,
      'all',
      judged.map((one) => ({ subject: one.eye.patientId, sums: sums(one) })),
    );
  // Both are of the same eyes and so renew together. By class of axis they would overlap with the whole, and what
  // is left of it by subtraction could be of fewer than five.
  return [
    ...part('results', ({ found }) => resultSums(found)),
    ...part('refraction', ({ eye, found }) => {
      const d = powerVector(found.visit.refraction).meanD - powerVector(eye.predicted).meanD;
      return [1, d, d * d];
    }),
  ];
}

/** Eyes, within 0.50 D, within 1.00 D, error and its square, eyes with corrected acuity twice, of them a line lost. */
function resultSums({ errorD, visit, eye }: JudgedEye): number[] {
  const [was, is] = [eye.before.correctedLogMar, visit.correctedLogMar];
  const known = was !== undefined && is !== undefined;
  // Dioptres and lines as written down are decimal; a hair of binary must not move an eye over the limit.
  const within = (limit: number): number => (Math.abs(errorD) <= limit + 1e-9 ? 1 : 0);
  return [
    1,
    within(0.5),
    within(1),
    errorD,
    errorD * errorD,
    known ? 1 : 0,
    known && Math.round((is - was) * 10) >= 1 ? 1 : 0,
  ];
}

async function vaultParts(work: Work, eyes: readonly OperatedEye[], before: string): Promise<PoolPart[]> {
  return (await designsOnOffer(work)).flatMap(({ code, sheet }) => {
    if (sheet.vaultModel === null) return [];
    const model = sheet.vaultModel as unknown as VaultModel;
    const counted = eyes.flatMap(({ patientId, vaults }) =>
      vaults.flatMap(({ designCode, eye, lengthMm, vaultUm, measuredOn }) =>
        designCode !== code ||
        vaultUm === null ||
        measuredOn === null ||
        measuredOn >= before ||
        missingInputs(eye, model).length > 0
          ? []
          : [{ subject: patientId, sums: flatSums(measuredVaultSums(model, [{ eye, lengthMm, vaultUm }])) }],
      ),
    );
    // Fewer eyes than that, and their sums could nearly be solved for them.
    const inputs = Object.keys(model.coefficients);
    return counted.length < 2 * (inputs.length + 1) ? [] : partOf('vault', vaultPartOf(code, model), counted);
  });
}

/** What a design's part of the pool is called: the same for every version of a model with the same inputs. */
export const vaultPartOf = (designCode: string, model: VaultModel): string =>
  `${designCode}|${Object.keys(model.coefficients).join(',')}`;

/** Orders with a promise that came, of them in time; then arrivals and orders still open, week by week. */
async function leadTimeParts({ tx }: Work, before: string): Promise<PoolPart[]> {
  const makers = await tx.maker.findMany({ orderBy: { code: 'asc' } });
  const orders = await tx.lensOrder.findMany({ where: { sentAt: { not: null } } });
  return makers.flatMap((maker) => {
    const counted = orders
      .filter(({ makerId, sentAt }) => makerId === maker.id && sentAt !== null && fromDate(sentAt) < before)
      .flatMap((order) => {
        // What came later was not there yet on that day.
        const came = order.arrivedAt !== null && fromDate(order.arrivedAt) < before ? order.arrivedAt : null;
        const record = recordOf({ ...order, arrivedAt: came }, makerCalendarOf(maker), before);
        if (record === null) return [];
        const week = Math.min(WEEKS - 1, Math.floor(Math.max(0, record.workingDays - 1) / WEEK_DAYS));
        const promised = came !== null && order.firstPromisedOn !== null;
        const kept = promised && fromDate(came) <= fromDate(order.firstPromisedOn as Date);
        const sums = new Array<number>(2 + 2 * WEEKS).fill(0);
        sums[0] = promised ? 1 : 0;
        sums[1] = kept ? 1 : 0;
        sums[2 + (record.outcome === 'arrived' ? 0 : WEEKS) + week] = 1;
        return [{ subject: order.caseId, sums }];
      });
    return partOf('lead_time', maker.code, counted);
  });
}
