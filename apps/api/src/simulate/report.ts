import { wilsonInterval } from '@lensferry/calculation';
import type { CountedShare } from '@lensferry/contracts';
import { assumptionsInWords } from './assumptions.js';
import type { Checked } from './invariants.queries.js';
import type { Tally } from './tally.js';

/** What a simulated year came to. */
export interface Outcome {
  readonly seed: number;
  readonly weeks: number;
  readonly tally: Tally;
  readonly checks: readonly Checked[];
  /** Of the arrivals, those inside the 90 % interval that was forecast at sending; null without arrivals. */
  readonly calibration: CountedShare | null;
}

/** Whether everything that must hold held. */
export const allHolds = ({ checks, tally }: Outcome): boolean =>
  tally.problems.length === 0 && checks.every(({ against }) => against.length === 0);

const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;

function shareLine(label: string, count: number, of: number): string {
  if (of === 0) return `  ${label}: none to count`;
  const { share, low, high } = wilsonInterval(count, of);
  return `  ${label}: ${count} of ${of}, ${percent(share)} (95 % limits ${percent(low)} to ${percent(high)})`;
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);

/** The year, line by line. */
export function reportLines(outcome: Outcome): string[] {
  const { seed, weeks, tally, checks, calibration } = outcome;
  const { waits, sizes } = tally;
  const counted = [
    'cases',
    'withdrawn',
    'orders sent',
    'sendings that failed',
    'orders declined',
    'orders forgotten by the maker',
    'promises moved',
    'lenses received',
    'packs damaged',
    'lenses implanted',
    'theatre dates lost',
    'exchanges opened',
    'returns opened',
    'credits booked',
    'closed',
  ];
  return [
    `A simulated stretch of ${weeks} weeks, seed ${seed}`,
    '',
    'Assumed (own choices unless a source is named; nothing here was measured on patients):',
    ...assumptionsInWords().map((line) => `  - ${line}`),
    '',
    'What happened, through the product’s own use cases:',
    ...counted.map((name) => `  ${name}: ${tally.of(name)}`),
    '',
    'What must hold:',
    ...checks.map(({ what, of, against }) =>
      against.length === 0
        ? `  holds: ${what} (${of} looked at)`
        : `  BROKEN: ${what}: ${against.slice(0, 5).join('; ')}${against.length > 5 ? ` and ${against.length - 5} more` : ''}`,
    ),
    ...tally.problems.slice(0, 5).map((problem) => `  BROKEN: ${problem}`),
    '',
    'Forecasts made when an order was sent, against what came:',
    calibration === null
      ? '  no lens came yet'
      : `  ${calibration.count.toFixed(1)} of ${calibration.of} arrivals fell inside the 90 % interval: ${percent(calibration.share)} (95 % limits ${percent(calibration.low)} to ${percent(calibration.high)}; aim 87 to 93 %)`,
    '',
    'The tool against the plain habit, on the same eyes, makers and true lead times:',
    shareLine(
      'first theatre dates missed with the tool',
      waits.filter(({ toolMissed }) => toolMissed).length,
      waits.length,
    ),
    shareLine(
      'first theatre dates missed by habit',
      waits.filter(({ habitMissed }) => habitMissed).length,
      waits.length,
    ),
    `  days from order to the first theatre date, mean: tool ${mean(waits.map(({ toolDays }) => toolDays)).toFixed(1)}, habit ${mean(waits.map(({ habitDays }) => habitDays)).toFixed(1)}`,
    shareLine(
      'lenses to exchange for their size with the tool',
      sizes.filter(({ toolExchanged }) => toolExchanged).length,
      sizes.length,
    ),
    shareLine(
      'lenses to exchange for their size by habit',
      sizes.filter(({ habitExchanged }) => habitExchanged).length,
      sizes.length,
    ),
  ];
}
