import { axisClassOf, CalculationError, offsetAt, withOffset } from '@lensferry/calculation';
import type { ChosenOffset, OfferedOffset, OffsetOffer, PlanResult } from '@lensferry/contracts';
import { DomainError, gatherEye, ownMeasurements, type GatheredEye } from '@lensferry/domain';
import { factsOf, firstSurgeryOf, loadCase, openExchangeOf, type CaseRow } from '../cases/cases.store.js';
import { learnedOffsets } from '../outcomes/refraction-errors.js';
import type { Work } from '../platform/work.js';

/** With fewer eyes of its own place an offset is shown, but nothing is planned with it (common practice, no source). */
const LEAST_EYES = 5;
/** What was shown and what is learned now may differ by this much: half of the last digit on screen. */
const SAME_D = 0.005;

/** What was learned for a case's eye; looking at it changes nothing. Null before the eye is measured, in an exchange, and where no eye has taught anything. */
export async function showOffset(work: Work, caseId: string): Promise<OffsetOffer> {
  const row = await loadCase(work, caseId);
  const { eye } = gatherEye([...ownMeasurements(factsOf(row.measurements), firstSurgeryOf(row))], null);
  return { offer: eye === null ? null : await offerOffset(work, row, eye), leastEyes: LEAST_EYES };
}

/**
 * The offset to plan with, for who may choose it.
 * @throws DomainError `person.not-permitted`, `plan.offset-none`, `plan.offset-too-few`.
 */
export async function offsetToUse(work: Work, row: CaseRow, eye: GatheredEye): Promise<OfferedOffset> {
  work.need('plan.offset');
  const offer = await offerOffset(work, row, eye);
  if (offer === null)
    throw new DomainError('refused', 'plan.offset-none', 'No offset of refraction is offered for this eye.');
  if (!offer.usable)
    throw new DomainError(
      'refused',
      'plan.offset-too-few',
      `An offset is planned with from ${LEAST_EYES} eyes of the same device, clinic and axis on; here there are ${offer.n}.`,
      { least: LEAST_EYES, eyes: offer.n },
    );
  return offer;
}

/** @throws DomainError `plan.offset-moved` unless the offset is the one that was shown. */
export function requireOffsetAsShown(offset: PlanResult['offset'], shown: ChosenOffset): void {
  const near = (learned: number | undefined, seen: number): boolean =>
    learned !== undefined && Math.abs(learned - seen) <= SAME_D;
  if (
    near(offset?.mean.estimateD, shown.meanD) &&
    near(offset?.j0.estimateD, shown.j0D) &&
    near(offset?.j45.estimateD, shown.j45D)
  )
    return;
  throw new DomainError(
    'conflict',
    'plan.offset-moved',
    'More eyes have been measured since: the offset is another one now; look at the plan once more.',
  );
}

/** What the record keeps of it. */
export const offsetFacts = (offset: PlanResult['offset']) =>
  offset
    ? { meanD: offset.mean.estimateD, j0D: offset.j0.estimateD, j45D: offset.j45.estimateD, n: offset.n }
    : null;

/** An eye that is planned anew after surgery has taught more about itself than any other eye. */
async function offerOffset(work: Work, row: CaseRow, eye: GatheredEye): Promise<OfferedOffset | null> {
  if (openExchangeOf(row) !== undefined) return null;
  const { eyes, learned } = await learnedOffsets(work);
  if (eyes === 0) return null;
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: row.clinicId } });
  const measured = { ...eye.refraction, axisDeg: eye.refraction.axisDeg ?? 0 };
  const planned = row.measurements.find(
    ({ id, kind }) => kind === 'refraction' && eye.measurementIds.includes(id),
  );
  const place = {
    device: planned?.device ?? '',
    clinic: clinic.name,
    axisClass: axisClassOf(measured),
  };
  const { n, mean, j0, j45, beyondDoubt } = offsetAt(learned, place);
  const refraction = moved(measured, { meanD: mean.estimateD, j0D: j0.estimateD, j45D: j45.estimateD });
  if (refraction === null) return null;
  return {
    ...place,
    ...{ n, eyes, mean, j0, j45, beyondDoubt },
    refraction: {
      ...{ sphereD: refraction.sphereD, cylinderD: refraction.cylinderD },
      axisDeg: refraction.cylinderD === 0 ? null : refraction.axisDeg,
    },
    usable: n >= LEAST_EYES,
  };
}

/** Null where the offset is beyond what any place can be off by: then a mistake was learned, and nothing is offered. */
function moved(...[refraction, offset]: Parameters<typeof withOffset>) {
  try {
    return withOffset(refraction, offset);
  } catch (error) {
    if (error instanceof CalculationError) return null;
    throw error;
  }
}
