import { daysBetween } from '../format/dates';
import { round } from './face-view';

/** Where a value lies on a scale, in percent of its width, kept inside the picture. */
export function percentOn(value: number, min: number, max: number): number {
  return round(Math.min(100, Math.max(0, ((value - min) / (max - min)) * 100)));
}

/** The sizes worth showing: those with a real share inside the band, and those that are spoken of. */
export function sizesToShow<T extends { lengthMm: number; intended: number }>(
  sizes: readonly T[],
  spokenOf: readonly (number | null | undefined)[],
): T[] {
  return sizes.filter(({ lengthMm, intended }) => intended >= 0.05 || spokenOf.includes(lengthMm));
}

export interface CrossingInput {
  p10: string;
  p50: string;
  p90: string;
  needBy: string | null;
  promisedOn: string | null;
}

export interface Crossing {
  low: number;
  middle: number;
  high: number;
  needBy: number | null;
  promised: number | null;
}

/** How many days a picture of crossings must show so that every row fits, from today on. */
export function horizonDays(rows: readonly (CrossingInput | null)[], today: string): number {
  const last = rows.flatMap((row) => (row ? [row.p90, row.needBy ?? row.p90] : []));
  const days = Math.max(7, ...last.map((date) => daysBetween(today, date)));
  // Beyond half a year a picture shows nothing near; far rows then end at its edge.
  return Math.min(180, Math.ceil(days * 1.12));
}

/** The places of a crossing on a line from today to the horizon, in percent. */
export function crossingOf(row: CrossingInput, today: string, days: number): Crossing {
  const at = (date: string) => percentOn(daysBetween(today, date), 0, days);
  return {
    low: at(row.p10),
    middle: at(row.p50),
    high: at(row.p90),
    needBy: row.needBy === null ? null : at(row.needBy),
    promised: row.promisedOn === null ? null : at(row.promisedOn),
  };
}

export type ChanceTone = 'brick' | 'amber' | 'moss';

/** How a chance to be in time is shown: even odds or worse is likely missed, nine in ten is fine. */
export function toneOfChance(chance: number): ChanceTone {
  // By the percent that is printed beside it, so that no two equal numbers differ in colour.
  const percent = Math.round(chance * 100);
  if (percent < 50) return 'brick';
  return percent < 90 ? 'amber' : 'moss';
}

/** Round numbers between two values for the marks of an axis. */
export function ticks(min: number, max: number, wanted: number): number[] {
  const rough = (max - min) / wanted;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 2.5, 5, 10].map((m) => m * power).find((s) => s >= rough) ?? rough;
  const first = Math.ceil(min / step) * step;
  return Array.from({ length: Math.floor((max - first) / step + 1e-9) + 1 }, (_, i) =>
    round(first + i * step),
  );
}
