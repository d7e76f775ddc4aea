import type { PlanChoice, SpheroCylinder } from '@lensferry/contracts';
import {
  DomainError,
  liveOrderStates,
  specificationDifferences,
  type Specification,
} from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { lensInEye, loadCase, openExchangeOf, orderOfRound, type CaseRow } from '../cases/cases.store.js';
import { refreshStage } from '../cases/refresh-stage.js';
import { offerDates } from '../leadtimes/offer-dates.js';
import { proposeChange } from '../orders/change-order.js';
import { loadOrder, takeStep } from '../orders/orders.store.js';
import { voidSignature } from '../orders/sign-order.js';
import { canonicalHash } from '../platform/audit.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { openOrder } from './open-order.js';
import { orderCompanion } from './order-companion.js';
import { computePlan, judgeLens, phakicEyeOf, termsOf } from './compute-plan.js';
import { offsetFacts, requireOffsetAsShown } from './offer-offset.js';
import { designsOnOffer, type DesignOnOffer } from './plans.store.js';

/**
 * Keeps a plan — what was measured, computed and chosen — and opens the order for it, or amends the one that has not
 * left the house yet. Amending voids a signature on it; where its maker has acknowledged it, the plan proposes a change.
 * @returns the order's identifier.
 * @throws DomainError `plan.stage`, `plan.not-makeable` naming the field, `plan.offset-moved`, or what `computePlan` throws.
 */
export async function savePlan(work: Work, caseId: string, choice: PlanChoice): Promise<string> {
  work.need('case.plan');
  const row = await loadCase(work, caseId);
  requirePlannable(row);
  const design = (await designsOnOffer(work)).find(({ id }) => id === choice.designVersionId);
  if (design === undefined)
    throw notMakeable('/designVersionId', 'This design is not on offer any more; choose another.');
  requireMakeable(design, choice);
  if (choice.offset !== undefined) work.need('plan.offset');
  const computed = await computePlan(work, row, {
    target: choice.target,
    withOffset: choice.offset !== undefined,
  });
  if (choice.offset !== undefined) requireOffsetAsShown(computed.offset, choice.offset);
  const judgedFrom = (refraction?: SpheroCylinder) =>
    judgeLens(
      design,
      {
        ...phakicEyeOf(computed.input, choice.target, refraction),
        lensPlaneOffsetMm: design.sheet.lensPlaneOffsetMm,
      },
      choice,
    );
  const judged = judgedFrom(computed.offset?.refraction);
  const result = computed.offset
    ? { ...computed, offset: { ...computed.offset, byOptics: judgedFrom().predicted } }
    : computed;
  const datesOf = await offerDates(work, row, [design.maker.id]);
  const chosen = {
    ...judged,
    dates: datesOf({ makerId: design.maker.id, quotedWorkingDays: judged.quotedWorkingDays }),
  };
  const chosenSize =
    result.sizing
      .find(({ designVersionId }) => designVersionId === design.id)
      ?.sizes.find(({ lengthMm }) => lengthMm === choice.lengthMm) ?? null;
  const planId = uuid();
  const number = (await work.tx.plan.count({ where: { caseId } })) + 1;
  await work.tx.plan.create({
    data: {
      clinicId: row.clinicId,
      id: planId,
      caseId,
      number,
      round: row.round,
      designVersionId: design.id,
      input: result.input as unknown as Prisma.InputJsonObject,
      result: { ...result, chosen, chosenSize } as unknown as Prisma.InputJsonObject,
      choice: choice as unknown as Prisma.InputJsonObject,
      madeAt: work.now,
      madeBy: work.personId,
    },
  });
  work.record({
    clinicId: row.clinicId,
    action: 'case.plan',
    caseId,
    facts: {
      plan: number,
      maker: design.maker.name,
      design: design.name,
      sphereD: choice.sphereD,
      cylinderD: choice.cylinderD,
      axisDeg: choice.axisDeg,
      lengthMm: choice.lengthMm,
      ...(choice.companionLengthMm === undefined ? {} : { companionLengthMm: choice.companionLengthMm }),
      ...(choice.offset === undefined ? {} : { offset: offsetFacts(result.offset) }),
    },
    why: choice.offset?.why ?? null,
  });
  const orderId = await openOrAmend(work, row, design, choice, planId);
  await orderCompanion(work, row, orderId, choice);
  await refreshStage(work, caseId);
  return orderId;
}

function requirePlannable(row: CaseRow): void {
  if (row.withdrawnAt !== null || row.closedAt !== null)
    throw new DomainError('conflict', 'case.ended', 'This case has ended, so it needs no plan.');
  if (lensInEye(row) !== undefined && openExchangeOf(row) === undefined)
    throw new DomainError(
      'refused',
      'plan.stage',
      'A lens is in the eye; open an exchange before planning another one.',
    );
  const order = orderOfRound(row);
  if (order?.state === 'accepted' && order.lenses.at(-1)?.state === 'reserved')
    throw new DomainError(
      'refused',
      'plan.lens-here',
      `The lens of order ${order.number} is here and reserved for this eye; a second one would have no eye to go to.`,
    );
}

const notMakeable = (pointer: string, message: string) =>
  new DomainError('invalid', 'plan.not-makeable', message, {}, [{ pointer, message }]);

/** Everything about the lens must lie on the maker's own steps. */
function requireMakeable({ sheet }: DesignOnOffer, choice: PlanChoice): void {
  for (const [field, range] of [
    ['sphereD', sheet.sphere],
    ['cylinderD', sheet.cylinder],
  ] as const) {
    const value = choice[field];
    const steps = (value - range.minD) / range.stepD;
    if (value < range.minD || value > range.maxD || Math.abs(steps - Math.round(steps)) > 1e-6)
      throw notMakeable(
        `/${field}`,
        `${field} ${value} is not made: ${range.minD} to ${range.maxD} D in steps of ${range.stepD} D.`,
      );
  }
  if ((choice.cylinderD === 0) !== (choice.axisDeg === null))
    throw notMakeable('/axisDeg', 'Give an axis with a cylinder, and none with a cylinder of 0.');
  if (choice.axisDeg !== null && !axisIsMade(sheet.axis, choice.axisDeg))
    throw notMakeable('/axisDeg', `Axis ${choice.axisDeg}° is not made in this design.`);
  if (!sheet.lengthsMm.includes(choice.lengthMm))
    throw notMakeable('/lengthMm', `${choice.lengthMm} mm is not made: ${sheet.lengthsMm.join(', ')} mm.`);
  const { companionLengthMm } = choice;
  if (companionLengthMm === undefined) return;
  const smaller = sheet.lengthsMm.filter((length) => length < choice.lengthMm);
  if (!smaller.includes(companionLengthMm))
    throw notMakeable(
      '/companionLengthMm',
      `A lens beside this one is of a smaller size that is made: ${smaller.join(', ') || 'there is none'}.`,
    );
}

function axisIsMade(axis: DesignOnOffer['sheet']['axis'], axisDeg: number): boolean {
  return axis.policy === 'any'
    ? Math.abs(axisDeg / axis.stepDeg - Math.round(axisDeg / axis.stepDeg)) < 1e-6
    : axis.axesDeg.some((made) => made % 180 === axisDeg % 180);
}

async function openOrAmend(
  work: Work,
  row: CaseRow,
  design: DesignOnOffer,
  choice: PlanChoice,
  planId: string,
): Promise<string> {
  const inEye = lensInEye(row);
  const specification: Specification = {
    version: 1,
    caseCode: row.code,
    eye: row.eye,
    makerCode: design.maker.code,
    designCode: design.code,
    designVersion: design.version,
    sphereD: choice.sphereD,
    cylinderD: choice.cylinderD,
    axisDeg: choice.axisDeg,
    lengthMm: choice.lengthMm,
    target: choice.target,
    replacesSerial: inEye?.lens.serial ?? null,
  };
  const terms = termsOf(design, choice);
  const data = {
    planId,
    makerId: design.maker.id,
    designVersionId: design.id,
    specification: specification as unknown as Prisma.InputJsonObject,
    specificationHash: canonicalHash(specification),
    replacesLensId: inEye?.lensId ?? null,
    quotedDays: terms.quotedWorkingDays,
    price: terms.price,
    currency: terms.currency,
    needBy: row.theatreOn,
  };
  const standing = orderOfRound(row);
  if (standing !== undefined && liveOrderStates.includes(standing.state)) {
    const order = await loadOrder(work, standing.id);
    if (['acknowledged', 'change_proposed'].includes(order.state)) {
      const { planId: fromPlan, designVersionId, specificationHash, quotedDays, currency } = data;
      const { price } = terms;
      const amended = {
        planId: fromPlan,
        designVersionId,
        specification,
        specificationHash,
        quotedDays,
        price,
        currency,
      };
      await proposeChange(work, order, design.maker.id, amended);
      return order.id;
    }
    const before = order.specification as unknown as Specification;
    const voided = await voidSignature(work, order, 'The specification was changed after it was signed.');
    const facts = { differences: specificationDifferences(before, specification), signatureVoided: voided };
    if (order.state === 'draft') {
      await work.tx.lensOrder.update({
        where: { clinicId_id: { clinicId: order.clinicId, id: order.id } },
        data: { ...data, version: { increment: 1 } },
      });
      work.record({
        clinicId: row.clinicId,
        action: 'order.amend',
        caseId: row.id,
        orderId: order.id,
        facts: { number: order.number, ...facts },
      });
      return order.id;
    }
    await takeStep(work, order, 'amend', { data: { ...data, note: null }, facts });
    return order.id;
  }
  return openOrder(work, row, data, terms);
}
