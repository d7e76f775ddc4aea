/** What the limits of the network are about, in the order in which a person reads them. */
export const limitGroups = ['suitability', 'vault', 'receiving', 'companion'] as const;
export type LimitGroup = (typeof limitGroups)[number];

/** The unit of a limit; `acuity` is decimal, `money` is in each maker's currency. */
export type LimitUnit =
  'months' | 'days' | 'years' | 'D' | 'mm' | 'um' | 'acuity' | 'percent' | 'money' | 'money_a_day';

/** One limit that the people of a network can set: what is usual, and what it can be at all. */
export interface Limit {
  readonly group: LimitGroup;
  readonly unit: LimitUnit;
  /** What holds until a surgeon sets another; common practice, no source, unless the docs say more. */
  readonly usual: number;
  readonly least: number;
  readonly most: number;
  readonly whole?: boolean;
}

/**
 * Every limit of the network as data: the API enforces it, plans and lists judge by it, the screen draws it.
 * Configuration, not law: the usual values are common practice, no source; those of a companion are our own choice.
 */
export const limits = {
  stableMonthsAtLeast: { group: 'suitability', unit: 'months', usual: 6, least: 0, most: 60, whole: true },
  stableMonthsPreferred: { group: 'suitability', unit: 'months', usual: 12, least: 0, most: 60, whole: true },
  acuityStopBelowDecimal: { group: 'suitability', unit: 'acuity', usual: 1 / 3, least: 0.05, most: 1 },
  acuityCautionBelowDecimal: { group: 'suitability', unit: 'acuity', usual: 0.5, least: 0.05, most: 1 },
  kmaxCautionD: { group: 'suitability', unit: 'D', usual: 60, least: 45, most: 90 },
  depthStopBelowMm: { group: 'suitability', unit: 'mm', usual: 2.8, least: 2, most: 4 },
  depthCautionBelowMm: { group: 'suitability', unit: 'mm', usual: 3, least: 2, most: 4 },
  ageAtLeast: { group: 'suitability', unit: 'years', usual: 21, least: 16, most: 60, whole: true },
  measurementsOldAfterDays: {
    group: 'suitability',
    unit: 'days',
    usual: 92,
    least: 7,
    most: 730,
    whole: true,
  },
  vaultAlertBelowUm: { group: 'vault', unit: 'um', usual: 100, least: 0, most: 2000 },
  vaultLowBelowUm: { group: 'vault', unit: 'um', usual: 250, least: 0, most: 2000 },
  vaultHighAboveUm: { group: 'vault', unit: 'um', usual: 750, least: 0, most: 2000 },
  vaultAlertAboveUm: { group: 'vault', unit: 'um', usual: 1000, least: 0, most: 3000 },
  expiryDaysAfterTheatre: { group: 'receiving', unit: 'days', usual: 30, least: 0, most: 730, whole: true },
  companionFromPercent: { group: 'companion', unit: 'percent', usual: 15, least: 0, most: 100 },
  companionRestockingPercent: { group: 'companion', unit: 'percent', usual: 20, least: 0, most: 100 },
  companionExplantedCreditPercent: { group: 'companion', unit: 'percent', usual: 0, least: 0, most: 100 },
  companionSecondOperation: { group: 'companion', unit: 'money', usual: 1500, least: 0, most: 1e6 },
  companionWaitingPerDay: { group: 'companion', unit: 'money_a_day', usual: 15, least: 0, most: 1e4 },
  companionSeenInTheatrePercent: { group: 'companion', unit: 'percent', usual: 25, least: 0, most: 100 },
} as const satisfies Record<string, Limit>;

export type LimitKey = keyof typeof limits;
export const limitKeys = Object.keys(limits) as LimitKey[];
export type Limits = Readonly<Record<LimitKey, number>>;

/** Limits that rise: the first of each pair lies at least so far below the second. An intended vault has a width. */
export const risingLimits: readonly (readonly [LimitKey, LimitKey, number])[] = [
  ['stableMonthsAtLeast', 'stableMonthsPreferred', 0],
  ['acuityStopBelowDecimal', 'acuityCautionBelowDecimal', 0],
  ['depthStopBelowMm', 'depthCautionBelowMm', 0],
  ['vaultAlertBelowUm', 'vaultLowBelowUm', 0],
  ['vaultLowBelowUm', 'vaultHighAboveUm', 1],
  ['vaultHighAboveUm', 'vaultAlertAboveUm', 0],
];

/** Why a limit can't be set to a value: outside its range, broken where it is whole, or past its neighbour. */
export type LimitFault =
  | { readonly say: 'range' }
  | { readonly say: 'whole' }
  | { readonly say: 'above' | 'below'; readonly passes: LimitKey; readonly at: number };

/**
 * What is wrong with one limit at a new value among the others; null where nothing is. Says the range, the whole
 * number, or the limit that it would pass by.
 * @example faultOfLimit('vaultLowBelowUm', 800, usualLimits) // { passes: 'vaultHighAboveUm', at: 749, say: 'above' }
 */
export function faultOfLimit(key: LimitKey, value: number, others: Limits): LimitFault | null {
  const { least, most, whole } = limits[key] as Limit;
  if (!Number.isFinite(value) || value < least || value > most) return { say: 'range' };
  if (whole === true && !Number.isInteger(value)) return { say: 'whole' };
  for (const [lower, upper, apart] of risingLimits) {
    const [highest, lowest] = [others[upper] - apart, others[lower] + apart];
    if (key === lower && value > highest) return { say: 'above', passes: upper, at: highest };
    if (key === upper && value < lowest) return { say: 'below', passes: lower, at: lowest };
  }
  return null;
}

/** What holds where nobody set anything. */
export const usualLimits: Limits = Object.fromEntries(
  limitKeys.map((key) => [key, limits[key].usual]),
) as Record<LimitKey, number>;
