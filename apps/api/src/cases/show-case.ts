import { bestRotation, DEFAULT_VAULT_JUDGEMENT, judgeVault, type Lighting } from '@lensferry/calculation';
import type { CaseDetail, PlanRecord, ReadLens, VaultCheck } from '@lensferry/contracts';
import { gatherEye, may, type Role } from '@lensferry/domain';
import { proposalFor } from '../exchanges/propose-exchange.js';
import { describeOrders } from '../orders/orders.queries.js';
import { historyOf } from '../platform/history.queries.js';
import { daysBetween, fromDate, fromDateOrNull } from '../platform/plain-date.js';
import { networkSettings, type NetworkSettings } from '../platform/settings-of-network.js';
import type { Work } from '../platform/work.js';
import { makersById } from '../makers/makers.store.js';
import { makerOffers, stillToChoose } from '../plans/maker-offers.js';
import { namesOf } from '../people/people.queries.js';
import { describeLenses } from '../stock/lenses.queries.js';
import { lensesOf, loadCasePage } from './case-page.queries.js';
import { describeCases } from './cases.queries.js';
import {
  factsOf,
  firstSurgeryOf,
  lensBehind,
  lensInEye,
  measuredBehind,
  openExchangeOf,
  orderOfRound,
  standingOrders,
  standing,
  type CaseRow,
} from './cases.store.js';

/** Everything about a case: where it stands, what happened, what is waited for, and both lenses of an exchange. */
export async function showCase(work: Work, caseId: string): Promise<CaseDetail> {
  const row = await loadCasePage(work, caseId);
  const settings = await networkSettings(work);
  const makers = await makersById(work);
  const { plans } = row;
  const names = await namesOf(work, [
    row.surgeonId,
    ...plans.map(({ madeBy }) => madeBy),
    ...row.exchanges.map(({ openedBy }) => openedBy),
    ...row.implantations.map(({ surgeonId }) => surgeonId),
  ]);
  const [summary] = await describeCases(work, [row], { names, makers, settings });
  if (summary === undefined) throw new Error('A case that was just read is gone.');
  const facts = factsOf(row.measurements);
  const stillCount = new Set(standing(row.measurements).map(({ id }) => id));
  const history = await historyOf(work, { caseId });
  const { identity } = row.patient;
  const hasIdentity = identity !== null && identity.erasedAt === null;
  return {
    ...summary,
    birthYear: row.patient.birthYear,
    hasIdentity,
    identityErasedAt: identity?.erasedAt?.toISOString() ?? null,
    round: row.round,
    withdrawnWhy: row.withdrawnWhy,
    missing: gatherEye(facts, firstSurgeryOf(row)).missing,
    stages: [
      { stage: 'assessing', at: row.openedAt.toISOString(), note: null },
      ...history
        .filter(({ action }) => action === 'case.stage')
        .map(({ facts: moved, at }) => ({ stage: moved['after'] as CaseDetail['stage'], at, note: null })),
    ],
    measurements: row.measurements.map((measurement) => ({
      id: measurement.id,
      kind: measurement.kind,
      takenOn: fromDate(measurement.takenOn),
      device: measurement.device,
      observer: measurement.observer,
      values: measurement.values as Record<string, number | string | null>,
      recordedAt: measurement.recordedAt.toISOString(),
      corrects: measurement.corrects,
      corrected: !stillCount.has(measurement.id),
      why: measurement.why,
    })),
    plans: plans.map((plan) => {
      const { chosen, chosenSize, ...result } = plan.result as unknown as PlanRecord['result'] &
        Pick<PlanRecord, 'chosen' | 'chosenSize'>;
      return {
        id: plan.id,
        number: plan.number,
        round: plan.round,
        madeAt: plan.madeAt.toISOString(),
        madeBy: names.get(plan.madeBy) ?? '',
        choice: plan.choice as PlanRecord['choice'],
        result,
        chosen,
        chosenSize,
      };
    }),
    orders: await describeOrders(work, row.orders, { cases: [row], makers, companions: row.orders }),
    lenses: await describeLenses(work, lensesOf(row), makers),
    implantations: row.implantations.map((operation) => ({
      id: operation.id,
      lensId: operation.lensId,
      serial: operation.lens.serial,
      performedOn: fromDate(operation.performedOn),
      recordedAt: operation.recordedAt.toISOString(),
      axisDeg: operation.axisDeg,
      surgeonName: names.get(operation.surgeonId) ?? '',
      explantedOn: fromDateOrNull(operation.explantedOn),
      explantWhy: operation.explantWhy,
      consideration: operation.consideration && {
        decision: operation.consideration.decision,
        reference: operation.consideration.reference,
        why: operation.consideration.why,
        decidedAt: operation.consideration.decidedAt.toISOString(),
        decidedBy: names.get(operation.consideration.decidedBy) ?? '',
      },
      lens: operation.lens.lens as ReadLens,
    })),
    exchanges: row.exchanges.map((exchange) => ({
      id: exchange.id,
      round: exchange.round,
      reason: exchange.reason,
      lensId: exchange.lensId,
      serial: row.implantations.find(({ lensId }) => lensId === exchange.lensId)?.lens.serial ?? '',
      openedAt: exchange.openedAt.toISOString(),
      openedBy: names.get(exchange.openedBy) ?? '',
      endedAt: exchange.endedAt?.toISOString() ?? null,
      endedWhy: exchange.endedWhy,
      proposal: exchange.proposal as unknown as CaseDetail['exchanges'][number]['proposal'],
      note: (exchange.evidence as { note?: string }).note ?? '',
    })),
    vaultChecks: vaultChecks(row, settings),
    rotation: rotationAdvice(row),
    proposal: await proposalFor(work, row),
    ...((await makerOffers(work, row)) ?? { offers: null, unable: null }),
    history,
    actions: actionsOf(row, work.actor.kind as Role, hasIdentity),
  };
}

/** Each vault measured after surgery, judged against the lens that was in the eye on that day. */
export function vaultChecks(row: CaseRow, settings: NetworkSettings): VaultCheck[] {
  const bands = { lowBelowUm: settings.vaultLowBelowUm, highAboveUm: settings.vaultHighAboveUm };
  return factsOf(row.measurements)
    .filter(({ kind }) => kind === 'vault')
    .map(({ id, takenOn, recordedAt, values }) => {
      const operation = lensBehind(row, { takenOn, recordedAt });
      const days = operation === undefined ? null : daysBetween(fromDate(operation.performedOn), takenOn);
      const judged = judgeVault(
        {
          vaultUm: Number(values['vaultUm']),
          daysSinceSurgery: days ?? 0,
          lighting: String(values['lighting']) as Lighting,
        },
        {
          bands,
          alertBelowUm: settings.vaultAlertBelowUm,
          alertAboveUm: settings.vaultAlertAboveUm,
        },
      );
      return {
        measurementId: id,
        takenOn,
        vaultUm: Number(values['vaultUm']),
        lighting: String(values['lighting']),
        daysAfterSurgery: days,
        lensId: operation?.lensId ?? null,
        level: judged.level,
        band: judged.band,
        message: judged.reasons.map(({ message }) => message).join(' '),
        reasons: judged.reasons.map(({ code }) => code),
        limits: { ...bands, settledFromDay: DEFAULT_VAULT_JUDGEMENT.settledFromDay },
      };
    });
}

/** What turning the lens would do, from the latest refraction and lens axis since surgery; null without both. */
function rotationAdvice(row: CaseRow): CaseDetail['rotation'] {
  const inEye = lensInEye(row);
  if (inEye === undefined) return null;
  const after = measuredBehind(row, inEye.lensId);
  const refraction = after.filter(({ kind }) => kind === 'refraction').at(-1);
  const seen = after.filter(({ kind }) => kind === 'lens_axis').at(-1);
  if (
    refraction === undefined ||
    seen === undefined ||
    (inEye.lens.lens as { cylinderD: number }).cylinderD === 0
  )
    return null;
  const lens = inEye.lens.lens as { sphereD: number; cylinderD: number; axisDeg: number };
  const advice = bestRotation({
    lens,
    seenAxisDeg: Number(seen.values['axisDeg']),
    refraction: {
      sphereD: Number(refraction.values['sphereD']),
      cylinderD: Number(refraction.values['cylinderD']),
      axisDeg: Number(refraction.values['axisDeg'] ?? 0),
    },
  });
  return {
    verdict: advice.verdict,
    turnDeg: advice.turnDeg,
    remaining: advice.after,
    message: advice.reasons.map(({ message }) => message).join(' '),
  };
}

/** A lens was taken out, and nobody has written down whether that is to be reported. */
const toConsider = ({ explantedOn, consideration }: CaseRow['implantations'][number]): boolean =>
  explantedOn !== null && consideration === null;

function actionsOf(row: CaseRow, role: Role, hasIdentity: boolean): CaseDetail['actions'] {
  const ended = row.withdrawnAt !== null || row.closedAt !== null;
  const inEye = lensInEye(row) !== undefined;
  const exchanging = openExchangeOf(row) !== undefined;
  const order = orderOfRound(row);
  const amendable =
    order === undefined ||
    [...stillToChoose, 'acknowledged', 'change_proposed'].includes(order.state) ||
    // Its lens was freed, sent back or discarded.
    (order.state === 'accepted' && !order.lenses.some(({ state }) => state === 'reserved'));
  const measured = gatherEye(factsOf(row.measurements), firstSurgeryOf(row)).eye !== null;
  const actions: CaseDetail['actions'] = [];
  if (!ended && may(role, 'case.measure')) actions.push('measure');
  if (!ended && measured && amendable && (!inEye || exchanging) && may(role, 'case.plan'))
    actions.push('plan');
  if (!ended && (!inEye || exchanging) && may(role, 'case.schedule')) actions.push('schedule');
  if (
    !ended &&
    standingOrders(row).some(({ lenses }) => lenses.some(({ state }) => state === 'reserved')) &&
    may(role, 'case.implant')
  )
    actions.push('implant');
  if (!ended && inEye && !exchanging && may(role, 'case.exchange')) actions.push('exchange');
  if (
    exchanging &&
    (order === undefined || ['cancelled', 'declined', 'rejected'].includes(order.state)) &&
    may(role, 'case.exchange')
  )
    actions.push('end-exchange');
  if (row.implantations.some(toConsider) && may(role, 'case.exchange')) actions.push('consider');
  if (!ended && row.stage === 'follow_up' && may(role, 'case.close')) actions.push('close');
  if (!ended && row.implantations.length === 0 && may(role, 'case.withdraw')) actions.push('withdraw');
  if (may(role, 'case.identity')) actions.push('identity');
  if (may(role, 'case.export-subject')) actions.push('export-subject');
  if (hasIdentity && may(role, 'case.erase-identity')) actions.push('erase-identity');
  return actions;
}
