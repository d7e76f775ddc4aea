import { scaleLinear } from 'd3-scale';
import type { FunnelModel } from './figure-model';
import { FootLabel } from './Axes';
import { BOX, INNER } from './scales';

interface Props {
  model: FunnelModel;
  say: (share: number) => string;
}

const LEFT = 130;

/** One row for each maker: where chance alone would put it (a bar to 95, a line to 99.8 of 100), and where it is. */
export function FunnelPicture({ model, say }: Props) {
  const x = scaleLinear()
    .domain([0, 1])
    .range([LEFT, INNER.right - 8]);
  const step = (INNER.bottom - BOX.top) / Math.max(1, model.rows.length);
  return (
    <>
      {x.ticks(5).map((value) => (
        <g key={value} transform={`translate(${x(value)} 0)`}>
          <line y1={BOX.top} y2={INNER.bottom} stroke="var(--line)" />
          <text y={INNER.bottom + 16} textAnchor="middle" fontSize="11.5" fill="var(--muted)">
            {say(value)}
          </text>
        </g>
      ))}
      {model.overall !== null && (
        <line
          data-mark="overall"
          x1={x(model.overall)}
          x2={x(model.overall)}
          y1={BOX.top}
          y2={INNER.bottom}
          stroke="var(--muted)"
          strokeDasharray="5 4"
        />
      )}
      {model.rows.map(({ label, share, inner, outer }, i) => {
        const y = BOX.top + step * (i + 0.5);
        return (
          <g key={label}>
            <text x={LEFT - 8} y={y + 4} textAnchor="end" fontSize="11.5" fill="var(--ink)">
              {label}
            </text>
            {outer && (
              <line
                data-mark="outer"
                x1={x(outer[0])}
                x2={x(outer[1])}
                y1={y}
                y2={y}
                stroke="var(--sea)"
                strokeWidth="1.4"
              />
            )}
            {inner && (
              <rect
                data-mark="inner"
                x={x(inner[0])}
                width={Math.max(2, x(inner[1]) - x(inner[0]))}
                y={y - 7}
                height="14"
                rx="7"
                fill="var(--sea-soft)"
                stroke="var(--sea)"
              />
            )}
            {share !== null && (
              <circle data-mark="share" cx={x(share)} cy={y} r="5" fill="var(--ink)" stroke="var(--paper)" />
            )}
          </g>
        );
      })}
      <FootLabel>{model.xLabel}</FootLabel>
    </>
  );
}
