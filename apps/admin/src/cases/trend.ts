import { ticks } from '../shared/drawing/scales';
import { daysBetween } from '../shared/format/dates';

export interface Reading {
  takenOn: string;
  value: number;
}

export interface Trend {
  points: { x: number; y: number; reading: Reading }[];
  /** The band in which readings of an unchanged eye scatter, around their mean; null without a known noise. */
  band: { top: number; bottom: number } | null;
  marks: { y: number; value: number }[];
}

/** Readings over time in a box of the given size, and the band of the measurement's own noise around their mean. */
export function trendOf(
  readings: readonly Reading[],
  noise: number | null,
  width: number,
  height: number,
): Trend {
  const sorted = [...readings].sort((a, b) => a.takenOn.localeCompare(b.takenOn));
  const first = sorted[0];
  const last = sorted.at(-1);
  if (!first || !last) return { points: [], band: null, marks: [] };
  const mean = sorted.reduce((sum, { value }) => sum + value, 0) / sorted.length;
  const spread = noise ?? 0;
  const low = Math.min(mean - spread, ...sorted.map(({ value }) => value));
  const high = Math.max(mean + spread, ...sorted.map(({ value }) => value));
  const pad = (high - low) * 0.15 || Math.max(Math.abs(mean) * 0.05, 0.5);
  const [min, max] = [low - pad, high + pad];
  const days = Math.max(1, daysBetween(first.takenOn, last.takenOn));
  const y = (value: number) => height - ((value - min) / (max - min)) * height;
  return {
    points: sorted.map((reading) => ({
      x: sorted.length === 1 ? width / 2 : (daysBetween(first.takenOn, reading.takenOn) / days) * width,
      y: y(reading.value),
      reading,
    })),
    band: noise === null ? null : { top: y(mean + noise), bottom: y(mean - noise) },
    marks: ticks(min, max, 3).map((value) => ({ y: y(value), value })),
  };
}
