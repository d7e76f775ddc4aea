import {
  awaitedOf,
  gatherEye,
  monthsBetween,
  stabilisedOn,
  stageOf,
  type StageFacts,
} from '@lensferry/domain';
import { grouped } from '../platform/grouped.js';
import { padded } from '../platform/padded.js';
import { networkSettings } from '../platform/settings-of-network.js';
import { fromDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import {
  factsOf,
  firstSurgeryOf,
  lensInEye,
  loadCases,
  measuredBehind,
  openExchangeOf,
  orderOfRound,
  type CaseRow,
} from './cases.store.js';

/** The facts of a case that its stage follows from. */
export function stageFacts(row: CaseRow, today: string, stableFromMonths: number): StageFacts {
  const facts = factsOf(row.measurements);
  const order = orderOfRound(row);
  const inEye = lensInEye(row);
  const stabilised = stabilisedOn(facts);
  return {
    withdrawn: row.withdrawnAt !== null,
    closed: row.closedAt !== null,
    measured: gatherEye(facts, firstSurgeryOf(row)).eye !== null,
    monthsSinceStabilising: stabilised === null ? null : monthsBetween(stabilised, today),
    stableFromMonths,
    order: order?.state ?? null,
    lens: order?.lenses.at(-1)?.state ?? null,
    lensInEye: inEye !== undefined,
    exchangeOpen: openExchangeOf(row) !== undefined,
    seenAfterSurgery:
      inEye !== undefined &&
      measuredBehind(row, inEye.lensId).some(({ kind }) =>
        ['refraction', 'vault', 'lens_axis'].includes(kind),
      ),
  };
}

/**
 * Works out a case's stage anew from its facts and keeps it beside the case for lists and filters. Every use case
 * that changes a fact ends with this; nothing else writes a stage.
 */
export const refreshStage = (work: Work, caseId: string): Promise<void> => refreshStages(work, [caseId]);

/** The same of several cases; those whose stage becomes the same are written in one statement. */
export async function refreshStages(work: Work, caseIds: readonly string[]): Promise<void> {
  const rows = await loadCases(work, caseIds);
  const settings = await networkSettings(work);
  const changed = rows
    .map((row) => {
      const facts = stageFacts(row, fromDate(work.now), settings.stableMonthsAtLeast);
      return { row, stage: stageOf(facts), awaited: awaitedOf(facts) };
    })
    .filter(({ row, stage, awaited }) => stage !== row.stage || awaited !== row.awaited);
  const alike = grouped(changed, ({ row, stage, awaited }) => `${row.clinicId} ${stage} ${awaited}`);
  for (const same of alike.values()) {
    const [{ row, stage, awaited }] = same as [(typeof same)[number]];
    await work.tx.eyeCase.updateMany({
      where: { clinicId: row.clinicId, id: { in: padded(same.map((one) => one.row.id)) } },
      data: { stage, awaited, version: { increment: 1 }, stageSince: work.now },
    });
  }
  for (const { row, stage } of changed.filter((one) => one.stage !== one.row.stage))
    work.record({
      clinicId: row.clinicId,
      action: 'case.stage',
      caseId: row.id,
      facts: { before: row.stage, after: stage },
    });
}
