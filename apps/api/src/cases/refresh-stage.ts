import {
  awaitedOf,
  gatherEye,
  monthsBetween,
  stabilisedOn,
  stageOf,
  type StageFacts,
} from '@lensferry/domain';
import { networkSettings } from '../platform/settings-of-network.js';
import { fromDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import {
  factsOf,
  firstSurgeryOf,
  lensInEye,
  loadCase,
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
export async function refreshStage(work: Work, caseId: string): Promise<void> {
  const row = await loadCase(work, caseId);
  const settings = await networkSettings(work);
  const facts = stageFacts(row, fromDate(work.now), settings.stableMonthsAtLeast);
  const stage = stageOf(facts);
  const awaited = awaitedOf(facts);
  if (stage === row.stage && awaited === row.awaited) return;
  const moved = stage !== row.stage;
  await work.tx.eyeCase.update({
    where: { clinicId_id: { clinicId: row.clinicId, id: row.id } },
    data: { stage, awaited, version: { increment: 1 }, stageSince: work.now },
  });
  if (moved)
    work.record({
      clinicId: row.clinicId,
      action: 'case.stage',
      caseId,
      facts: { before: row.stage, after: stage },
    });
}
