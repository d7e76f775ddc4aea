import { arcPath, meridian, onCircle, type Point } from './face-view';

export const CENTRE: Point = { x: 130, y: 116 };
export const RADIUS = 104;
/** The cornea is drawn about 11.6 mm wide. */
export const PX_PER_MM = RADIUS / 5.8;

/** The edge of the cornea with its marks every 15 degrees. */
export function Limbus() {
  return (
    <>
      <circle
        cx={CENTRE.x}
        cy={CENTRE.y}
        r={RADIUS}
        fill="var(--paper)"
        stroke="var(--line)"
        strokeWidth="2"
      />
      {Array.from({ length: 24 }, (_, i) => {
        const a = onCircle(CENTRE, RADIUS, i * 15);
        const b = onCircle(CENTRE, RADIUS - (i % 6 === 0 ? 9 : 5), i * 15);
        return <line key={i} x1={a.x} y1={a.y} x2={b.x} y2={b.y} stroke="var(--line)" strokeWidth="1.5" />;
      })}
      <path d={`M ${CENTRE.x - 72} ${CENTRE.y} h 144`} stroke="var(--line)" strokeWidth="1.2" />
    </>
  );
}

/** Where the cornea bulges. */
export function Cone({ at }: { at: Point }) {
  return (
    <>
      <circle cx={at.x} cy={at.y} r="32" fill="var(--amber-soft)" />
      <circle cx={at.x} cy={at.y} r="16" fill="var(--amber)" opacity="0.28" />
    </>
  );
}

/** The cone's words, under it or above it, always inside the picture. */
export function ConeLabel({ at, label }: { at: Point; label: string }) {
  const y = at.y > CENTRE.y ? Math.min(at.y + 44, 206) : Math.max(at.y - 36, 30);
  return (
    <text x={at.x} y={y} textAnchor="middle" className="drawing__amber">
      {label}
    </text>
  );
}

const kinds = {
  steep: { stroke: 'var(--muted)', strokeWidth: 1.6, strokeDasharray: '5 4' },
  lens: { stroke: 'var(--sea)', strokeWidth: 3.2 },
  before: { stroke: 'var(--sea)', strokeWidth: 1.6, strokeDasharray: '2 4' },
};

export function Axis({ at, length, kind }: { at: number; length: number; kind: keyof typeof kinds }) {
  const [a, b] = meridian(CENTRE, length, at);
  return <line x1={a.x} y1={a.y} x2={b.x} y2={b.y} strokeLinecap="round" {...kinds[kind]} />;
}

/** The lens where it is to lie, its angle from the horizontal, and the turn that brings it there. */
export function LensAxis({ axisDeg, turnDeg, label }: { axisDeg: number; turnDeg: number; label: string }) {
  const lies = (axisDeg + turnDeg + 180) % 180;
  const turned = Math.round(turnDeg) !== 0;
  const tip = onCircle(CENTRE, 92, axisDeg + turnDeg);
  return (
    <>
      {turned && <Axis at={axisDeg} length={90} kind="before" />}
      <Axis at={lies} length={90} kind="lens" />
      <path
        d={turned ? arcPath(CENTRE, 92, axisDeg, axisDeg + turnDeg) : arcPath(CENTRE, 66, 0, lies)}
        fill="none"
        stroke="var(--sea)"
        strokeWidth="1.6"
      />
      {turned && <circle cx={tip.x} cy={tip.y} r="3.4" fill="var(--sea)" />}
      <text {...onCircle(CENTRE, 82, lies / 2)} className="drawing__value" textAnchor="middle" dy="4">
        {label}
      </text>
    </>
  );
}
