import { compareGroups, judgeEyes, outcomeReport } from '@lensferry/calculation';
import type { ComparisonQuery, OutcomeComparison, OutcomeQuery, OutcomeReport } from '@lensferry/contracts';
import { networkSettings } from '../platform/settings-of-network.js';
import type { Work } from '../platform/work.js';
import { readOperatedEyes } from './operated-eyes.queries.js';
import { choicesOf, selectEyes, valuesOf } from './select-eyes.js';

/** What the trade holds results against: common practice, no source. */
const references = {
  withinHalfD: 0.8,
  withinOneD: 0.9,
  lostALine: 0.1,
  followUpMonthsAtLeast: 12,
  source: 'common practice, no source',
};

const cautions = [
  'Both eyes of a patient are counted as if they were independent, which makes intervals look narrower than they are.',
  'Eyes are judged by the lens that is in them now; visits behind an earlier lens are left out.',
];

/** A visit booked for a month rarely falls on its last day: a month counts from 28 days, a year from 352. */
export function minimumDaysOf(months: number): number {
  return months === 0 ? 0 : Math.round(months * 30.4375) - Math.min(14, 1 + months);
}

/** The standard figures of the eyes that are asked for. */
export async function showReport(work: Work, query: OutcomeQuery): Promise<OutcomeReport> {
  const eyes = await readOperatedEyes(work);
  const settings = await networkSettings(work);
  return {
    figures: outcomeReport(
      selectEyes(eyes, query).map(({ outcome }) => outcome),
      {
        minimumDays: minimumDaysOf(query.minimumMonths),
        visitDays: settings.visitDays,
        bands: { lowBelowUm: settings.vaultLowBelowUm, highAboveUm: settings.vaultHighAboveUm },
      },
    ),
    choices: {
      clinic: choicesOf(eyes, 'clinic'),
      surgeon: choicesOf(eyes, 'surgeon'),
      maker: choicesOf(eyes, 'maker'),
      design: choicesOf(eyes, 'design'),
      procedure: choicesOf(eyes, 'procedure'),
    },
    references: {
      ...references,
      vaultBand: { lowBelowUm: settings.vaultLowBelowUm, highAboveUm: settings.vaultHighAboveUm },
    },
    cautions,
  };
}

/** Two groups of the eyes that are asked for, measure by measure. An eye in both groups counts in neither. */
export async function compareOutcomes(work: Work, query: ComparisonQuery): Promise<OutcomeComparison> {
  const eyes = selectEyes(await readOperatedEyes(work), query);
  const minimumDays = minimumDaysOf(query.minimumMonths);
  const belongs = (eye: (typeof eyes)[number], value: string): boolean =>
    valuesOf(eye, query.by).some((own) => own.value === value);
  const group = (value: string, other: string) => {
    const own = eyes.filter((eye) => belongs(eye, value) && (value === other || !belongs(eye, other)));
    const { judged, tooEarly } = judgeEyes(
      own.map(({ outcome }) => outcome),
      minimumDays,
    );
    const label = choicesOf(own, query.by).find((choice) => choice.value === value)?.label ?? value;
    return { judged, side: { label, eyes: judged.length, tooEarly } };
  };
  const [first, second] = [group(query.first, query.second), group(query.second, query.first)];
  return {
    by: query.by,
    minimumDays,
    first: first.side,
    second: second.side,
    rows: compareGroups(first.judged, second.judged),
    note: 'The measures are fixed beforehand; their p values are not corrected for being several, and groups were not drawn by lot.',
  };
}
