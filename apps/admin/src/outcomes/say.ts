import type { Estimate, OutcomeBin, OutcomeFigures, Share } from '@lensferry/contracts';
import type { DateFormat } from '../shared/format/dates';
import type { NumberFormat } from '../shared/format/numbers';
import type { Bar } from './figure-model';

/** Words and numbers in the language of the screen. */
export interface Say {
  t: (key: string, values?: Record<string, unknown>) => string;
  format: NumberFormat & { date: Pick<DateFormat, 'withYear'> };
}

/** n, follow-up and the least that was asked for: every figure says what it rests on. */
export function basisOf({ t, format }: Say, figures: OutcomeFigures, n: number): string {
  const { followUpDays, minimumDays } = figures;
  const months = (days: number) => format.plain(Math.round(days / 30.4375));
  return t('outcome.basis', {
    smart_count: n,
    median: months(followUpDays?.median ?? 0),
    least: months(followUpDays?.min ?? 0),
    asked: months(minimumDays),
  });
}

export const barOf = ({ share, low, high }: Share): Bar => ({ value: share, low, high });

/** `74 % (60–84 %)` */
export const shareText = ({ format }: Say, { share, low, high }: Share): string =>
  `${format.percent(share)} (${format.whole(low * 100)}–${format.percent(high)})`;

/** A share as a row of a table ends: how many of how many, the share, its limits. */
export const shareCells = ({ format }: Say, { count, n, share, low, high }: Share): string[] => [
  `${format.whole(count)} / ${format.whole(n)}`,
  format.percent(share),
  `${format.percent(low)} – ${format.percent(high)}`,
];

export const shareHead = ({ t }: Say): string[] => [
  t('outcome.head.count'),
  t('outcome.head.share'),
  t('outcome.head.limits'),
];

export const estimateText = ({ format }: Say, { estimate, low, high }: Estimate): string =>
  `${format.plain(Math.round(estimate * 100) / 100)} (${format.plain(Math.round(low * 100) / 100)}–${format.plain(Math.round(high * 100) / 100)})`;

/** `−0.5…0.5`, `> 1.5`, `< −1.5`: short enough to stand under a bar. */
export function binText({ format }: Say, { from, to }: Pick<OutcomeBin, 'from' | 'to'>): string {
  if (from === null) return `< ${format.plain(to ?? 0)}`;
  if (to === null) return `> ${format.plain(from)}`;
  return `${format.plain(from)}…${format.plain(to)}`;
}
