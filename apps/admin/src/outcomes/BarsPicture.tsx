import { FootLabel, Hatch, UpAxis } from './Axes';
import type { BarsModel } from './figure-model';
import { BOX, groupScale, INNER, strokesPath, upScale, wordsCollide } from './scales';

interface Props {
  id: string;
  model: BarsModel;
  say: (share: number) => string;
}

/** Shares as bars with their limits. */
export function BarsPicture({ id, model, say }: Props) {
  const { groups, series } = model;
  const all = groups.flatMap(({ bars }) => bars.flatMap((bar) => (bar ? [bar.high ?? bar.value] : [])));
  const y = upScale([...all, 0.2], true);
  const place = groupScale(groups.length);
  const width = place.bandwidth() / series.length;
  const at = (group: number, one: number) => (place(group) ?? 0) + one * width;
  const staggered = wordsCollide(
    groups.map(({ label }) => label),
    place.step(),
  );
  const limits = groups.flatMap(({ bars }, group) =>
    bars.flatMap((bar, one) =>
      bar === null || bar.low === null || bar.high === null
        ? []
        : [{ x: at(group, one) + width / 2, from: y(bar.low), to: y(bar.high) }],
    ),
  );
  return (
    <>
      <Hatch id={`${id}-hatch`} />
      <UpAxis y={y} label={model.yLabel} say={say} />
      {groups.map(({ label, bars }, group) => (
        <g key={label}>
          {bars.map((bar, one) =>
            bar === null ? null : (
              <rect
                key={series[one]}
                data-mark={`series-${one}`}
                x={at(group, one)}
                width={Math.max(1, width - 2)}
                y={y(bar.value)}
                height={Math.max(0, INNER.bottom - y(bar.value))}
                fill={one === 0 ? 'var(--sea-soft)' : `url(#${id}-hatch)`}
                stroke="var(--sea)"
              />
            ),
          )}
          <text
            x={(place(group) ?? 0) + place.bandwidth() / 2}
            y={INNER.bottom + 16 + (staggered && group % 2 === 1 ? 12 : 0)}
            textAnchor="middle"
            fontSize={groups.length > 8 ? 10 : 11.5}
            fill="var(--muted)"
          >
            {label}
          </text>
        </g>
      ))}
      <path data-mark="limits" d={strokesPath(limits)} stroke="var(--ink)" strokeWidth="1.4" fill="none" />
      <line x1={BOX.left} x2={INNER.right} y1={INNER.bottom} y2={INNER.bottom} stroke="var(--muted)" />
      {series.length > 1 && <Legend id={id} series={series} />}
      <FootLabel>{model.xLabel}</FootLabel>
    </>
  );
}

function Legend({ id, series }: { id: string; series: readonly string[] }) {
  return (
    <g transform={`translate(${BOX.left} ${BOX.height - 28})`}>
      {series.map((name, one) => (
        <g key={name} transform={`translate(${one * 200} 0)`}>
          <rect
            width="11"
            height="9"
            y="-8"
            fill={one === 0 ? 'var(--sea-soft)' : `url(#${id}-hatch)`}
            stroke="var(--sea)"
          />
          <text x="16" fontSize="11.5" fill="var(--ink)">
            {name}
          </text>
        </g>
      ))}
    </g>
  );
}
