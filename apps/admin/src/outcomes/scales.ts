import { scaleBand, scaleLinear } from 'd3-scale';

/** The inside of every picture, in its own units. */
export const BOX = { width: 480, height: 312, left: 52, right: 22, top: 14, bottom: 74 } as const;
export const INNER = { right: BOX.width - BOX.right, bottom: BOX.height - BOX.bottom } as const;

/** A scale along the height that begins and ends on round numbers and holds all values. */
export function upScale(values: readonly number[], fromZero: boolean) {
  const least = Math.min(...values, fromZero ? 0 : Infinity);
  const most = Math.max(...values, fromZero ? 0 : -Infinity);
  return scaleLinear()
    .domain(least === most ? [least - 1, most + 1] : [least, most])
    .nice(5)
    .range([INNER.bottom, BOX.top]);
}

/** The same along the width. */
export function alongScale(values: readonly number[]) {
  const up = upScale(values, false);
  return scaleLinear().domain(up.domain()).range([BOX.left, INNER.right]);
}

/** Places for groups along the width. */
export function groupScale(count: number) {
  return scaleBand<number>()
    .domain(Array.from({ length: count }, (_, i) => i))
    .range([BOX.left, INNER.right])
    .padding(0.22);
}

const short = (value: number): string => String(Math.round(value * 10) / 10);

/** All points as one path of dots: thousands are drawn as fast as one. */
export function dotsPath(points: readonly { x: number; y: number }[]): string {
  return points.map(({ x, y }) => `M${short(x)} ${short(y)}h0`).join('');
}

/** All limits as one path of upright strokes. */
export function strokesPath(lines: readonly { x: number; from: number; to: number }[]): string {
  return lines.map(({ x, from, to }) => `M${short(x)} ${short(from)}V${short(to)}`).join('');
}

/** Whether words under groups would run into each other, so that every second one has to stand lower. */
export function wordsCollide(labels: readonly string[], step: number): boolean {
  return labels.some((label) => label.length * 5.6 > step);
}

/** A text in lines of at most so many letters, broken between words. */
export function linesOf(text: string, most: number): string[] {
  return text.split(' ').reduce<string[]>((lines, word) => {
    const last = lines.at(-1);
    if (last !== undefined && last.length + word.length < most)
      return [...lines.slice(0, -1), `${last} ${word}`];
    return [...lines, word];
  }, []);
}
