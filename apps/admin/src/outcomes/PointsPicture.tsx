import { AlongAxis, FootLabel, UpAxis } from './Axes';
import type { PointsModel } from './figure-model';
import { alongScale, dotsPath, strokesPath, upScale } from './scales';

interface Props {
  model: PointsModel;
  say: (value: number) => string;
}

/** One point for each eye, the line of agreement dashed, the fitted line whole. */
export function PointsPicture({ model, say }: Props) {
  const { points, diagonal, line } = model;
  const xs = points.map(({ x }) => x);
  const ys = points.flatMap(({ y, low, high }) => [y, low ?? y, high ?? y]);
  // Agreement can only be seen where both sides have one scale.
  const both = diagonal ? [...xs, ...ys] : null;
  const x = alongScale(both ?? xs);
  const y = upScale(both ?? ys, false);
  const limits = points.flatMap((point) =>
    point.low === undefined || point.high === undefined
      ? []
      : [{ x: x(point.x), from: y(point.low), to: y(point.high) }],
  );
  const ends = [Math.min(...xs), Math.max(...xs)];
  const [from = 0, to = 0] = x.domain();
  return (
    <>
      <UpAxis y={y} label={model.yLabel} say={say} />
      <AlongAxis x={x} say={say} />
      {diagonal && (
        <path
          data-mark="agreement"
          d={`M${x(from)} ${y(from)}L${x(to)} ${y(to)}`}
          stroke="var(--muted)"
          strokeDasharray="5 4"
          fill="none"
        />
      )}
      <path
        data-mark="limits"
        d={strokesPath(limits)}
        stroke="var(--sea)"
        strokeWidth="1"
        strokeOpacity="0.45"
        fill="none"
      />
      <path
        data-mark="eyes"
        d={dotsPath(points.map((point) => ({ x: x(point.x), y: y(point.y) })))}
        stroke="var(--sea)"
        strokeWidth={points.length > 800 ? 3 : 5}
        strokeOpacity={points.length > 800 ? 0.35 : 0.7}
        strokeLinecap="round"
        fill="none"
      />
      {line && points.length > 0 && (
        <path
          data-mark="line"
          d={`M${ends.map((end) => `${x(end)} ${y(line.intercept + line.slope * end)}`).join('L')}`}
          stroke="var(--ink)"
          strokeWidth="1.8"
          fill="none"
        />
      )}
      <FootLabel>{model.xLabel}</FootLabel>
    </>
  );
}
