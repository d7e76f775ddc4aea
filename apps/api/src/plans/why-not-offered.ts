import {
  CalculationError,
  idealLens,
  lensRangeGaps,
  rankLenses,
  suggestSize,
  type PhakicEye,
  type RangeGap,
  type VaultModel,
} from '@lensferry/calculation';
import type { UnableDesign, WhyUnable } from '@lensferry/contracts';
import type { GatheredEye } from '@lensferry/domain';
import { fromDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { sizingEye } from './compute-plan.js';
import type { DesignOnOffer } from './plans.store.js';

/** One decimal more than any sheet's step, so that a lens just outside never reads as if it lay inside. */
const dioptres = (value: number): string => `${value.toFixed(2).replace('-', '−')} D`;
const say = (code: WhyUnable['code'], message: string, facts: WhyUnable['facts'] = {}): WhyUnable => ({
  code,
  message,
  facts,
});

/** Which designs can't make the lens of an eye, each with every reason; sheets that aren't valid now included. */
export async function unableDesigns(
  work: Work,
  designs: readonly DesignOnOffer[],
  { eye, phakic }: { eye: GatheredEye; phakic: PhakicEye },
): Promise<UnableDesign[]> {
  const unable = designs.flatMap((design) => {
    const reasons = whyNotOffered(design, eye, phakic);
    return reasons.length === 0
      ? []
      : [{ designVersionId: design.id, makerName: design.maker.name, designName: design.name, reasons }];
  });
  return [...unable, ...(await withoutSheet(work))];
}

/** Every reason for which a design offers no lens near the one that the eye needs; none when it offers one. */
export function whyNotOffered(design: DesignOnOffer, eye: GatheredEye, phakic: PhakicEye): WhyUnable[] {
  const { sheet } = design;
  const behind = { ...phakic, lensPlaneOffsetMm: sheet.lensPlaneOffsetMm };
  const range = { sphere: sheet.sphere, cylinder: sheet.cylinder, axis: sheet.axis };
  try {
    const gaps = lensRangeGaps(idealLens(behind), range);
    const reasons = gaps.length > 0 ? gaps.map((gap) => sayGap(gap, design)) : noneKept(behind, range);
    return reasons.length === 0 ? [] : [...reasons, ...lengthsTooFar(design, eye)];
  } catch (error) {
    if (error instanceof CalculationError)
      return [say('not-computable', `The lens can't be computed: ${error.message}`, { field: error.field })];
    throw error;
  }
}

function sayGap({ code, wanted, limit }: RangeGap, { sheet }: DesignOnOffer): WhyUnable {
  if (code === 'turn-too-far') {
    const message = `It is made to fixed axes and would have to be turned by ${Math.round(wanted)}°; this design allows ${limit}°.`;
    return say(code, message, { wanted: Math.round(wanted), limit });
  }
  const [name, { minD, maxD }] =
    code === 'sphere-out-of-range' ? ['sphere', sheet.sphere] : ['cylinder', sheet.cylinder];
  const message = `The eye needs a ${name} of ${dioptres(wanted)}; it is made from ${dioptres(minD)} to ${dioptres(maxD)}.`;
  return say(code, message, { wanted: Math.round(wanted * 100) / 100, minimum: minD, maximum: maxD });
}

/** Sphere and cylinder can be had, but no combination of steps and axes near them leaves what may be left. */
function noneKept(eye: PhakicEye, range: Parameters<typeof rankLenses>[1]): WhyUnable[] {
  const ranked = rankLenses(eye, range);
  if (ranked.some(({ breaks }) => breaks.length === 0)) return [];
  if (ranked.length === 0)
    return [
      say(
        'combination-not-made',
        'No combination of its steps of sphere, cylinder and axis lies near enough.',
      ),
    ];
  return [
    say(
      'flips-axis',
      'Every combination of its steps near the lens would leave cylinder across the eye’s own axis.',
    ),
  ];
}

function lengthsTooFar({ sheet }: DesignOnOffer, eye: GatheredEye): WhyUnable[] {
  try {
    const { reasons } = suggestSize(sizingEye(eye), {
      lengthsMm: sheet.lengthsMm,
      ...(sheet.vaultModel === null ? {} : { model: sheet.vaultModel as unknown as VaultModel }),
    });
    if (!reasons.some(({ code }) => code === 'size.end-of-range')) return [];
  } catch (error) {
    // Without a width there is nothing to say of lengths; the plan says so itself.
    if (error instanceof CalculationError) return [];
    throw error;
  }
  const lengths = [...sheet.lengthsMm].sort((a, b) => a - b);
  const [minimum = 0, maximum = 0] = [lengths[0], lengths.at(-1)];
  const message = `Its lengths end too early for this eye: ${minimum.toFixed(2)} to ${maximum.toFixed(2)} mm.`;
  return [say('length-not-made', message, { minimum, maximum })];
}

/** Designs that have no sheet valid now: none at all, or only one from a day to come. */
async function withoutSheet({ tx, now }: Work): Promise<UnableDesign[]> {
  const designs = await tx.design.findMany({
    where: { versions: { none: { validFrom: { lte: now } } } },
    include: { maker: true, versions: { orderBy: { validFrom: 'asc' }, take: 1 } },
    orderBy: { code: 'asc' },
  });
  return designs.map(({ id, name, maker, versions: [next] }) => ({
    designVersionId: next?.id ?? id,
    makerName: maker.name,
    designName: name,
    reasons: [
      next === undefined
        ? say('no-sheet', 'This design has no sheet yet; an administrator imports one.')
        : say('sheet-not-valid-yet', `Its sheet is valid only from ${fromDate(next.validFrom)} on.`, {
            from: fromDate(next.validFrom),
          }),
    ],
  }));
}
