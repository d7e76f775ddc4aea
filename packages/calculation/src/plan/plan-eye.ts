import { idealLens } from '../optics/ideal-lens.js';
import { predictedRefraction } from '../optics/predicted-refraction.js';
import { requireSizingEye } from '../sizing/sizing-eye.js';
import { suggestSize, type SizeSuggestion } from '../sizing/suggest-size.js';
import { WIDTHS } from '../sizing/sizing-settings.js';
import { expectedOutcome } from '../uncertainty/expected-outcome.js';
import { planFindings } from './plan-findings.js';
import { DEFAULT_LENGTHS_MM, type Plan, type PlanInput, type PlanSettings } from './plan-types.js';

/**
 * The whole plan of one eye: ideal lens, what a lens to judge leaves, where such eyes end, sizes with
 * their vaults, and findings. It is what `npm run plan` prints.
 * Throws CalculationError naming field, value and range for input that cannot be.
 * @source see docs/formulas.md
 * @example planEye({ id: 'A1', eye: 'OD', refraction, keratometry, anteriorChamberDepthMm: 3.1, cornealThicknessUm: 500 }).idealLens
 */
export function planEye(input: PlanInput, settings: PlanSettings = {}): Plan {
  const ideal = idealLens(input);
  const { lens } = input;
  const left = lens === undefined ? undefined : predictedRefraction(input, lens);
  const outcome = expectedOutcome(input, lens ?? ideal, settings.spreads, {
    cloudCount: 0,
    ...settings.outcome,
  });
  const sizing = sizesOf(input, settings);
  return {
    id: input.id,
    idealLens: ideal,
    ...(left === undefined ? {} : { predictedRefraction: left }),
    expected: {
      withinHalfD: outcome.withinHalfD,
      withinOneD: outcome.withinOneD,
      sphericalEquivalentD: outcome.sphericalEquivalentD,
      cylinderD: outcome.cylinderD,
    },
    sizes: (sizing?.sizes ?? []).map(({ lengthMm, vaultUm, low, intended, high }) => ({
      lengthMm,
      vaultUm,
      low,
      intended,
      high,
    })),
    ...(sizing === undefined ? {} : { suggestedLengthMm: sizing.suggestedLengthMm }),
    findings: planFindings(input, { ideal, left, outcome, sizing }, settings),
  };
}

function sizesOf(input: PlanInput, settings: PlanSettings): SizeSuggestion | undefined {
  requireSizingEye(input);
  if (WIDTHS.every((width) => input[width] === undefined)) return undefined;
  return suggestSize(input, {
    lengthsMm: input.sizesMm ?? DEFAULT_LENGTHS_MM,
    model: settings.model,
    settings: settings.sizing,
  });
}
