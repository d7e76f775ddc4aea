import type { ArrivalCurve } from '@lensferry/contracts';

/** The box that a curve is drawn in, in the units of its viewBox. */
export const BOX = { width: 560, height: 260, left: 66, right: 22, top: 16, bottom: 58 };

interface Line {
  /** The share that has come, as an SVG path of steps. */
  readonly arrived: string;
  /** Its 95 % limits, as one closed path. */
  readonly limits: string;
}

export const xOf = (day: number, lastDay: number): number =>
  BOX.left + (day / Math.max(1, lastDay)) * (BOX.width - BOX.left - BOX.right);
export const yOf = (share: number): number =>
  BOX.height - BOX.bottom - share * (BOX.height - BOX.top - BOX.bottom);

/** A curve of arrivals as paths: nothing has come on day 0, and each step holds until the next. */
export function lineOf({ steps }: Pick<ArrivalCurve, 'steps'>, lastDay: number): Line {
  const points = [{ day: 0, arrived: 0, low: 0, high: 0 }, ...steps];
  const along = (value: (point: (typeof points)[number]) => number): [number, number][] =>
    points.flatMap((point, place) => {
      const until = points[place + 1]?.day ?? lastDay;
      return [
        [xOf(point.day, lastDay), yOf(value(point))],
        [xOf(until, lastDay), yOf(value(point))],
      ] as [number, number][];
    });
  const draw = (list: readonly [number, number][]): string =>
    list.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join(' L ');
  return {
    arrived: `M ${draw(along(({ arrived }) => arrived))}`,
    limits: `M ${draw([...along(({ high }) => high), ...along(({ low }) => low).reverse()])} Z`,
  };
}
