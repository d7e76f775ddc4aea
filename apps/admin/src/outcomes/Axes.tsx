import type { ScaleLinear } from 'd3-scale';
import { BOX, INNER } from './scales';

type Scale = ScaleLinear<number, number>;
const small = { fontSize: 11.5, fill: 'var(--muted)' } as const;

/** Round numbers up the side with hairlines across, and what they are. */
export function UpAxis({ y, label, say }: { y: Scale; label: string; say: (value: number) => string }) {
  return (
    <g>
      {y.ticks(5).map((value) => (
        <g key={value} transform={`translate(0 ${y(value)})`}>
          <line x1={BOX.left} x2={INNER.right} stroke="var(--line)" />
          <text x={BOX.left - 6} y="4" textAnchor="end" {...small}>
            {say(value)}
          </text>
        </g>
      ))}
      <text
        transform={`translate(12 ${(BOX.top + INNER.bottom) / 2}) rotate(-90)`}
        textAnchor="middle"
        {...small}
      >
        {label}
      </text>
    </g>
  );
}

/** Round numbers along the foot. */
export function AlongAxis({ x, say }: { x: Scale; say: (value: number) => string }) {
  return (
    <g>
      {x.ticks(6).map((value) => (
        <text key={value} x={x(value)} y={INNER.bottom + 17} textAnchor="middle" {...small}>
          {say(value)}
        </text>
      ))}
      <line x1={BOX.left} x2={INNER.right} y1={INNER.bottom} y2={INNER.bottom} stroke="var(--muted)" />
    </g>
  );
}

/** What the foot is of. */
export function FootLabel({ children }: { children: string }) {
  return (
    <text x={(BOX.left + INNER.right) / 2} y={BOX.height - 8} textAnchor="middle" {...small}>
      {children}
    </text>
  );
}

/** Hatching within a picture of its own, so that it keeps its sign when it leaves the page. */
export function Hatch({ id }: { id: string }) {
  return (
    <defs>
      <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <rect width="6" height="6" fill="var(--paper)" />
        <line x1="0" y1="0" x2="0" y2="6" stroke="var(--sea)" strokeWidth="2" />
      </pattern>
    </defs>
  );
}
