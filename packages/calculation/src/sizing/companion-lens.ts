import { CalculationError, requireNumber } from '../calculation-error.js';
import { LENGTH_MM } from './sizing-eye.js';
import { sortedLengths } from './suggest-size.js';

/** What a wrong size costs and how lenses can be given back; all amounts in one currency. */
export interface CompanionTerms {
  /** Price of the lens that is ordered, 0 to 1e6. */
  readonly price: number;
  /** Price of the same power one size smaller, 0 to 1e6. */
  readonly companionPrice: number;
  /** Share of its price, 0 to 1, that the maker keeps of a lens that comes back unused. */
  readonly restockingShare: number;
  /** Share of its price, 0 to 1, that the maker credits for a lens that was in an eye. */
  readonly explantedCreditShare: number;
  /** What a second operation costs, 0 to 1e6. */
  readonly secondOperation: number;
  /** What waiting for a replacement costs, whole wait, 0 to 1e6. */
  readonly waiting: number;
  /** Share of lenses that are too large, 0 to 1, which is seen in theatre while both are at hand. */
  readonly seenInTheatreShare: number;
  /** A companion is proposed from this chance of a lens that is too large, 0 to 1. */
  readonly fromChance: number;
}

/** What one way of ordering costs: if the size fits, if it is too large, and on average. */
export interface WayCost {
  readonly ifFits: number;
  readonly ifTooLarge: number;
  readonly expected: number;
}

/** Both ways beside each other. */
export interface CompanionJudgement {
  /** Chance, 0 to 1, that the lens turns out too large. */
  readonly chance: number;
  readonly alone: WayCost;
  readonly together: WayCost;
  /** What ordering both saves on average; negative where it costs more. */
  readonly saving: number;
  /** The chance from which ordering both is the cheaper way; null when it never is. */
  readonly evenChance: number | null;
  readonly proposed: boolean;
}

const MONEY = { min: 0, max: 1e6, unit: '' };
const SHARE = { min: 0, max: 1, unit: '' };

/**
 * Whether to order a lens one size smaller beside the chosen one, by the expected cost of both ways. A lens that is
 * too large is exchanged for the smaller one: alone, after a wait and by a second operation; together, without the
 * wait, and without the operation where it is seen in theatre. The one that isn't used goes back to its maker. A
 * size that is too small is outside this: a smaller companion doesn't help. Throws CalculationError naming the field
 * for input out of range.
 * @source none: expected values of a two-branch decision tree; that such lenses are exchanged one size smaller is common practice
 * @example judgeCompanion(0.3, terms).proposed
 */
export function judgeCompanion(chance: number, terms: CompanionTerms): CompanionJudgement {
  requireTerms(chance, terms);
  const { price, companionPrice, restockingShare, explantedCreditShare, secondOperation, waiting } = terms;
  const credit = explantedCreditShare * price;
  const alone = wayCost(chance, price, price + companionPrice + secondOperation + waiting - credit);
  const together = wayCost(
    chance,
    price + restockingShare * companionPrice,
    price + companionPrice + (1 - terms.seenInTheatreShare) * secondOperation - credit,
  );
  // Where each lens comes back, the prices themselves fall out of the difference.
  const gainIfTooLarge = terms.seenInTheatreShare * secondOperation + waiting;
  const lossIfFits = restockingShare * companionPrice;
  const saving = chance * gainIfTooLarge - (1 - chance) * lossIfFits;
  const either = gainIfTooLarge + lossIfFits;
  return {
    chance,
    alone,
    together,
    saving,
    evenChance: gainIfTooLarge === 0 ? null : lossIfFits / either,
    proposed: chance > 0 && chance >= terms.fromChance && saving > 0,
  };
}

function wayCost(chance: number, ifFits: number, ifTooLarge: number): WayCost {
  return { ifFits, ifTooLarge, expected: (1 - chance) * ifFits + chance * ifTooLarge };
}

function requireTerms(chance: number, terms: CompanionTerms): void {
  requireNumber('chance', chance, SHARE);
  for (const field of ['price', 'companionPrice', 'secondOperation', 'waiting'] as const)
    requireNumber(field, terms[field], MONEY);
  for (const field of [
    'restockingShare',
    'explantedCreditShare',
    'seenInTheatreShare',
    'fromChance',
  ] as const)
    requireNumber(field, terms[field], SHARE);
}

/**
 * The longest length that can be made below the chosen one, in mm; null when the chosen one is the shortest.
 * Throws CalculationError for a chosen length that can't be made.
 * @source none: the next of what the maker states
 * @example companionLengthMm([12, 12.5, 13], 12.5) // 12
 */
export function companionLengthMm(lengthsMm: readonly number[], chosenMm: number): number | null {
  const lengths = sortedLengths(lengthsMm);
  requireNumber('chosenMm', chosenMm, LENGTH_MM);
  if (!lengths.includes(chosenMm))
    throw new CalculationError('input.out-of-range', 'chosenMm', chosenMm, `one of ${lengths.join(', ')} mm`);
  return lengths.filter((length) => length < chosenMm).at(-1) ?? null;
}
