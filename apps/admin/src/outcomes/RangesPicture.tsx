import { FootLabel, UpAxis } from './Axes';
import type { Range, RangesModel } from './figure-model';
import { BOX, groupScale, INNER, upScale } from './scales';

interface Props {
  model: RangesModel;
  say: (value: number) => string;
}

/** Two values with their ranges in every group: a ring on dashes, and a square on a whole line. */
export function RangesPicture({ model, say }: Props) {
  const { groups, series } = model;
  const y = upScale(
    groups.flatMap(({ ranges }) => ranges.flatMap(({ low, high }) => [low, high])),
    true,
  );
  const place = groupScale(groups.length);
  const middle = (i: number) => (place(i) ?? 0) + place.bandwidth() / 2;
  const apart = Math.min(7, place.bandwidth() / 4);
  return (
    <>
      <UpAxis y={y} label={model.yLabel} say={say} />
      {groups.map(({ label, ranges: [before, after] }, i) => (
        <g key={label}>
          <First x={middle(i) - apart} of={before} y={y} />
          <Second x={middle(i) + apart} of={after} y={y} />
          {(i % 2 === 0 || groups.length < 9) && (
            <text x={middle(i)} y={INNER.bottom + 16} textAnchor="middle" fontSize="11.5" fill="var(--muted)">
              {label}
            </text>
          )}
        </g>
      ))}
      <g transform={`translate(${BOX.left} ${BOX.height - 28})`} fontSize="11.5" fill="var(--ink)">
        <circle cx="5" cy="-4" r="4" fill="var(--paper)" stroke="var(--muted)" strokeWidth="2" />
        <text x="16">{series[0]}</text>
        <rect x="201" y="-8" width="8" height="8" fill="var(--sea)" />
        <text x="216">{series[1]}</text>
      </g>
      <FootLabel>{model.xLabel}</FootLabel>
    </>
  );
}

interface Mark {
  x: number;
  of: Range;
  y: (value: number) => number;
}

function First({ x, of, y }: Mark) {
  return (
    <>
      <path
        data-mark="range-0"
        d={`M${x} ${y(of.low)}V${y(of.high)}`}
        stroke="var(--muted)"
        strokeWidth="2"
        strokeDasharray="3 2"
      />
      <circle
        data-mark="value-0"
        cx={x}
        cy={y(of.value)}
        r="4"
        fill="var(--paper)"
        stroke="var(--muted)"
        strokeWidth="2"
      />
    </>
  );
}

function Second({ x, of, y }: Mark) {
  return (
    <>
      <path
        data-mark="range-1"
        d={`M${x} ${y(of.low)}V${y(of.high)}`}
        stroke="var(--sea)"
        strokeWidth="2.5"
      />
      <rect data-mark="value-1" x={x - 4} y={y(of.value) - 4} width="8" height="8" fill="var(--sea)" />
    </>
  );
}
