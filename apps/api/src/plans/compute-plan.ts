import {
  blurD,
  CalculationError,
  expectedOutcome,
  idealLens,
  lensRangeGaps,
  powerVector,
  predictedRefraction,
  rankLenses,
  subtractCrossed,
  suggestSize,
  turnDeg,
  type PhakicEye,
  type RankedLens,
  type SizingEye,
  type SphereCylinder,
  type VaultModel,
} from '@lensferry/calculation';
import type { LensOption, PlanRequest, PlanResult, SpheroCylinder } from '@lensferry/contracts';
import {
  DomainError,
  findingsFor,
  gatherEye,
  ownMeasurements,
  printedAxis,
  type GatheredEye,
} from '@lensferry/domain';
import { factsOf, firstSurgeryOf, openExchangeOf, type CaseRow } from '../cases/cases.store.js';
import { offerDates } from '../leadtimes/offer-dates.js';
import { dayIn } from '../platform/plain-date.js';
import { networkSettings } from '../platform/settings-of-network.js';
import type { Work } from '../platform/work.js';
import { powerForExchange, type LensToKeep } from '../exchanges/power-for-exchange.js';
import { proposeExchange } from '../exchanges/propose-exchange.js';
import { companionFigures } from './companion-figures.js';
import { offsetToUse } from './offer-offset.js';
import { designsOnOffer, type DesignOnOffer } from './plans.store.js';
import { unableDesigns } from './why-not-offered.js';

/** How many lenses of one design a plan shows. */
const lensesADesign = 3;

export const cautions = [
  'Some error is likely to remain; the range beside each lens shows how much.',
  'Decision support for licensed professionals; not a medical device.',
  'Check every lens with its maker’s own method; local law, the maker’s instructions and the surgeon’s judgement come first.',
];

/**
 * Computes a case's plan from its measurements on record: the lens the eye needs, what each design can make near it
 * with the refraction it would leave, the vault of each size, and the findings. The browser's numbers play no part.
 * @throws DomainError `plan.measurements-missing`, `plan.not-computable` naming the field, or those of `offsetToUse`.
 */
export async function computePlan(
  work: Work,
  row: CaseRow,
  { target, withOffset = false }: Pick<PlanRequest, 'target'> & Partial<PlanRequest>,
): Promise<PlanResult> {
  const facts = [...ownMeasurements(factsOf(row.measurements), firstSurgeryOf(row))];
  const { eye: measured, missing } = gatherEye(facts, null);
  if (measured === null)
    throw new DomainError(
      'refused',
      'plan.measurements-missing',
      `A plan needs these measurements first: ${missing.join(', ')}.`,
      {
        missing,
      },
    );
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: row.clinicId } });
  const settings = await networkSettings(work);
  const designs = await designsOnOffer(work);
  const exchange = openExchangeOf(row);
  const power =
    exchange === undefined ? null : powerForExchange(row, measured, exchange.reason, offsetsOf(designs));
  const eye = power?.eye ?? measured;
  const findings = findingsFor({
    eye,
    measurements: facts,
    birthYear: row.patient.birthYear,
    today: dayIn(clinic.timeZone, work.now),
    settings,
    exchange: exchange !== undefined,
  });
  const datesOf = await offerDates(
    work,
    row,
    designs.map(({ maker }) => maker.id),
  );
  const offset = withOffset ? await offsetToUse(work, row, eye) : null;
  try {
    const phakic = phakicEyeOf(eye, target, offset?.refraction);
    return {
      input: eye,
      target,
      idealLens: ideal(phakic),
      offset,
      options: [
        ...designs.flatMap((design) => samePower(design, phakic, power?.keep ?? null)),
        ...designs
          .flatMap((design) => optionsOf(design, phakic))
          .sort((a, b) => a.blurD - b.blurD || a.quotedWorkingDays - b.quotedWorkingDays),
      ]
        .filter(firstOfItsKind)
        .map((option) => ({
          ...option,
          dates: datesOf({
            makerId: designs.find(({ id }) => id === option.designVersionId)?.maker.id ?? '',
            quotedWorkingDays: option.quotedWorkingDays,
          }),
        })),
      unable: await unableDesigns(work, designs, { eye, phakic }),
      sizing:
        exchange === undefined
          ? designs.map((design) => sizingOf(design, eye))
          : exchangeSizing(row, designs),
      companion: exchange === undefined ? companionFigures(settings) : null,
      findings: power === null ? findings : [power.finding, ...findings],
      cautions,
    };
  } catch (error) {
    if (error instanceof CalculationError)
      throw new DomainError('refused', 'plan.not-computable', error.message, { field: error.field });
    throw error;
  }
}

const offsetsOf = (designs: readonly DesignOnOffer[]): Map<string, number> =>
  new Map(designs.map(({ code, sheet }) => [code, sheet.lensPlaneOffsetMm]));

/** What the optics are given; the offset of the lens plane is each design's own, the refraction the measured one unless given. */
export function phakicEyeOf(
  eye: GatheredEye,
  target: SpheroCylinder,
  refraction: SpheroCylinder = eye.refraction,
): PhakicEye {
  const { index, ...powers } = eye.keratometry;
  return {
    refraction: {
      ...{ sphereD: refraction.sphereD, cylinderD: refraction.cylinderD },
      axisDeg: refraction.axisDeg ?? 0,
      vertexMm: eye.refraction.vertexMm,
    },
    keratometry: { ...powers, ...(index === null ? {} : { index }) },
    target: { ...target, axisDeg: target.axisDeg ?? 0 },
    anteriorChamberDepthMm: eye.depthFromEndotheliumMm,
    cornealThicknessUm: eye.cornealThicknessUm,
  };
}

const written = ({ sphereD, cylinderD, axisDeg }: SphereCylinder): SpheroCylinder => ({
  sphereD,
  cylinderD,
  axisDeg: cylinderD === 0 ? null : axisDeg,
});

const ideal = (eye: PhakicEye): SpheroCylinder => written(idealLens(eye));

function optionsOf(design: DesignOnOffer, phakic: PhakicEye): LensOption[] {
  const { sheet } = design;
  const eye = { ...phakic, lensPlaneOffsetMm: sheet.lensPlaneOffsetMm };
  const range = { sphere: sheet.sphere, cylinder: sheet.cylinder, axis: sheet.axis };
  if (lensRangeGaps(idealLens(eye), range).length > 0) return [];
  return rankLenses(eye, range)
    .filter(({ breaks }) => breaks.length === 0)
    .slice(0, lensesADesign)
    .map((ranked) => optionOf(design, eye, ranked));
}

/** In an exchange for size the lens of the same power comes first, whatever else would rank before it. */
function samePower(design: DesignOnOffer, phakic: PhakicEye, keep: LensToKeep | null): LensOption[] {
  if (keep === null || keep.designCode !== design.code) return [];
  const eye = { ...phakic, lensPlaneOffsetMm: design.sheet.lensPlaneOffsetMm };
  return [judgeLens(design, eye, keep)];
}

/** The same lens of the same design is shown once. */
function firstOfItsKind(option: LensOption, place: number, all: readonly LensOption[]): boolean {
  const same = (other: LensOption): boolean =>
    other.designVersionId === option.designVersionId &&
    other.sphereD === option.sphereD &&
    other.cylinderD === option.cylinderD &&
    other.axisDeg === option.axisDeg;
  return all.findIndex(same) === place;
}

/** A lens as ordered, judged in an eye: it need not be one of those that were ranked. */
export function judgeLens(
  design: DesignOnOffer,
  eye: PhakicEye,
  lens: { sphereD: number; cylinderD: number; axisDeg: number | null },
): LensOption {
  const { turn, axisDeg } = turnFor(design, eye, lens);
  const lying = { sphereD: lens.sphereD, cylinderD: lens.cylinderD, axisDeg };
  const predicted = predictedRefraction(eye, lying);
  const outcome = expectedOutcome(eye, lying);
  return {
    designVersionId: design.id,
    makerName: design.maker.name,
    designName: design.name,
    sphereD: lens.sphereD,
    cylinderD: lens.cylinderD,
    axisDeg: lens.axisDeg,
    turnDeg: turn,
    predicted: written(predicted),
    blurD: blurD(
      powerVector(subtractCrossed(predicted, eye.target ?? { sphereD: 0, cylinderD: 0, axisDeg: 0 })),
    ),
    withinHalfD: outcome.withinHalfD,
    withinOneD: outcome.withinOneD,
    sphericalEquivalentD: outcome.sphericalEquivalentD,
    cylinderLeftD: outcome.cylinderD,
    ...termsOf(design, lens),
  };
}

/** Where the lens's axis comes to lie: as made, or turned by the surgeon towards the eye's own axis. */
function turnFor(
  { sheet }: DesignOnOffer,
  eye: PhakicEye,
  lens: { cylinderD: number; axisDeg: number | null },
): { turn: number; axisDeg: number } {
  const made = lens.axisDeg ?? 0;
  if (sheet.axis.policy === 'any' || lens.cylinderD === 0) return { turn: 0, axisDeg: made % 180 };
  const limit = sheet.axis.maximumTurnDeg;
  const turn = Math.round(Math.min(limit, Math.max(-limit, turnDeg(made, idealLens(eye).axisDeg))));
  return { turn, axisDeg: (((made + turn) % 180) + 180) % 180 };
}

function optionOf(design: DesignOnOffer, eye: PhakicEye, ranked: RankedLens): LensOption {
  const outcome = expectedOutcome(eye, ranked.lens);
  const { ordered, turn } = ranked;
  const signed =
    turn === undefined || turn.direction === 'none'
      ? 0
      : turn.direction === 'clockwise'
        ? -turn.angleDeg
        : turn.angleDeg;
  return {
    designVersionId: design.id,
    makerName: design.maker.name,
    designName: design.name,
    sphereD: ordered.sphereD,
    cylinderD: ordered.cylinderD,
    axisDeg: printedAxis(ordered.cylinderD, ordered.axisDeg),
    turnDeg: signed,
    predicted: written(ranked.predicted),
    blurD: ranked.blurD,
    withinHalfD: outcome.withinHalfD,
    withinOneD: outcome.withinOneD,
    sphericalEquivalentD: outcome.sphericalEquivalentD,
    cylinderLeftD: outcome.cylinderD,
    ...termsOf(design, ordered),
  };
}

/** How long the maker quotes for a lens, whether it is made to order, and what it costs. */
export function termsOf(
  { sheet, maker }: Pick<DesignOnOffer, 'sheet' | 'maker'>,
  lens: { sphereD: number; cylinderD: number },
): Pick<LensOption, 'quotedWorkingDays' | 'madeToOrder' | 'price' | 'currency'> {
  const { stocked, quotedWorkingDays, price } = sheet;
  const high = -lens.cylinderD >= sheet.highCylinderFromD;
  const onShelf =
    stocked !== null &&
    lens.sphereD >= stocked.sphereMinD &&
    lens.sphereD <= stocked.sphereMaxD &&
    lens.cylinderD >= stocked.cylinderMinD;
  return {
    quotedWorkingDays: onShelf
      ? quotedWorkingDays.stocked
      : high
        ? quotedWorkingDays.high
        : quotedWorkingDays.made,
    madeToOrder: !onShelf,
    price: high ? price.highCylinder : price.base,
    currency: maker.currency,
  };
}

/** The eye as the sizing sees it. */
export function sizingEye(eye: GatheredEye): SizingEye {
  const known = <T>(value: T | null): T | undefined => value ?? undefined;
  return {
    whiteToWhiteMm: known(eye.whiteToWhiteMm),
    sulcusMm: known(eye.sulcusMm),
    verticalSulcusMm: known(eye.verticalSulcusMm),
    angleToAngleMm: known(eye.angleToAngleMm),
    lensRiseUm: known(eye.lensRiseUm),
    lensThicknessMm: known(eye.lensThicknessMm),
    anteriorChamberDepthMm: eye.depthFromEndotheliumMm,
    kmaxD: known(eye.kmaxD),
    coneDistanceMm: known(eye.coneDistanceMm),
  };
}

type Sizing = PlanResult['sizing'][number];

function sizingOf(design: DesignOnOffer, eye: GatheredEye): Sizing {
  const { sheet } = design;
  const suggestion = suggestSize(sizingEye(eye), {
    lengthsMm: sheet.lengthsMm,
    ...(sheet.vaultModel === null ? {} : { model: sheet.vaultModel as unknown as VaultModel }),
  });
  return {
    designVersionId: design.id,
    basis: suggestion.basis,
    sizes: suggestion.sizes.map(({ lengthMm, vaultUm, low, intended, high }) => ({
      lengthMm,
      vaultUm,
      low,
      intended,
      high,
    })),
    suggestedLengthMm: suggestion.suggestedLengthMm,
    reasons: suggestion.reasons.map(({ message }) => message),
  };
}

/** In an exchange this eye's own measured vault speaks louder than any model. */
function exchangeSizing(row: CaseRow, designs: readonly DesignOnOffer[]): Sizing[] {
  const sizing: Sizing[] = [];
  for (const design of designs) {
    const proposal = proposeExchange(row, design);
    if (proposal !== null)
      sizing.push({
        designVersionId: design.id,
        basis: 'exchange',
        sizes: proposal.forecasts,
        suggestedLengthMm: proposal.suggestedLengthMm,
        reasons: proposal.reasons,
      });
  }
  return sizing;
}
