import {
  CalculationError,
  idealLens,
  lensRangeGaps,
  rankLenses,
  type PhakicEye,
} from '@lensferry/calculation';
import type { MakerOffer, UnableDesign } from '@lensferry/contracts';
import { gatherEye, printedAxis } from '@lensferry/domain';
import {
  factsOf,
  firstSurgeryOf,
  lensInEye,
  openExchangeOf,
  orderOfRound,
  type CaseRow,
} from '../cases/cases.store.js';
import { offerDates } from '../leadtimes/offer-dates.js';
import type { Work } from '../platform/work.js';
import { phakicEyeOf, termsOf } from './compute-plan.js';
import { designsOnOffer, type DesignOnOffer } from './plans.store.js';
import { unableDesigns } from './why-not-offered.js';

/** Orders that have not left the house, or came to nothing: a maker can still be chosen. */
export const stillToChoose: readonly string[] = [
  'draft',
  'changes_requested',
  'submitted',
  'approved',
  'rejected',
  'declined',
  'cancelled',
];

/**
 * Who can make the lens that a case needs now, each with its best lens, its price and by when it would come with what
 * chance; the likeliest for the theatre date first, else the soonest. Aims at plano, as a plan does by default.
 * Beside them who can't, and why.
 * @returns null when the case needs no lens now, or can't be planned yet.
 */
export async function makerOffers(
  work: Work,
  row: CaseRow,
): Promise<{ offers: MakerOffer[]; unable: UnableDesign[] } | null> {
  if (row.withdrawnAt !== null || row.closedAt !== null) return null;
  if (lensInEye(row) !== undefined && openExchangeOf(row) === undefined) return null;
  const order = orderOfRound(row);
  if (order !== undefined && !stillToChoose.includes(order.state)) return null;
  const { eye } = gatherEye(factsOf(row.measurements), firstSurgeryOf(row));
  if (eye === null) return null;
  const designs = await designsOnOffer(work);
  const datesOf = await offerDates(
    work,
    row,
    designs.map(({ maker }) => maker.id),
  );
  const phakic = phakicEyeOf(eye, { sphereD: 0, cylinderD: 0, axisDeg: null });
  const offers = designs
    .flatMap((design) => {
      const lens = bestLens(design, phakic);
      if (lens === null) return [];
      const dates = datesOf({ makerId: design.maker.id, quotedWorkingDays: lens.quotedWorkingDays });
      return [{ ...lens, makerId: design.maker.id, dates }];
    })
    .sort(
      (a, b) =>
        (b.dates.chanceForTheatre ?? 0) - (a.dates.chanceForTheatre ?? 0) ||
        a.dates.p90.localeCompare(b.dates.p90),
    );
  return { offers, unable: await unableDesigns(work, designs, { eye, phakic }) };
}

function bestLens(design: DesignOnOffer, phakic: PhakicEye): Omit<MakerOffer, 'makerId' | 'dates'> | null {
  const { sheet } = design;
  const eye = { ...phakic, lensPlaneOffsetMm: sheet.lensPlaneOffsetMm };
  const range = { sphere: sheet.sphere, cylinder: sheet.cylinder, axis: sheet.axis };
  try {
    if (lensRangeGaps(idealLens(eye), range).length > 0) return null;
    const best = rankLenses(eye, range).find(({ breaks }) => breaks.length === 0);
    if (best === undefined) return null;
    const { sphereD, cylinderD, axisDeg } = best.ordered;
    return {
      designVersionId: design.id,
      makerName: design.maker.name,
      designName: design.name,
      sphereD,
      cylinderD,
      axisDeg: printedAxis(cylinderD, axisDeg),
      blurD: best.blurD,
      ...termsOf(design, best.ordered),
    };
  } catch (error) {
    // A plan says why an eye can't be computed; here it only means that nobody can be offered.
    if (error instanceof CalculationError) return null;
    throw error;
  }
}
