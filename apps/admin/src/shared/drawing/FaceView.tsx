import { useTranslate } from 'react-admin';
import { eyeInCapitals, type Eye } from '@lensferry/domain';
import { useFormat } from '../format/use-format';
import { arcPath, meridian, noseSide, onCircle } from './face-view';
import './drawing.css';

export interface FaceViewInput {
  eye: Eye;
  flatAxisDeg: number | null;
  steepAxisDeg: number | null;
  /** Where the lens's axis is to lie or lies. */
  lensAxisDeg: number | null;
  /** From where to where the lens has to be turned, when it does. */
  turnDeg: number | null;
  cone: { distanceMm: number; directionDeg: number; kmaxD: number | null } | null;
}

const CENTRE = { x: 130, y: 116 };
const RADIUS = 104;
/** The cornea is drawn about 11.6 mm wide. */
const PX_PER_MM = RADIUS / 5.8;

/** The eye as one faces it: the cornea's steep meridian, the cone, the lens axis and the turn to make. */
export function FaceView({ input }: { input: FaceViewInput }) {
  const t = useTranslate();
  const format = useFormat();
  const nose = noseSide(input.eye);
  const capitals = t(`eye.capitals.${eyeInCapitals[input.eye]}`);
  const cone = input.cone && {
    ...onCircle(CENTRE, input.cone.distanceMm * PX_PER_MM, input.cone.directionDeg),
    label:
      input.cone.kmaxD === null
        ? t('draw.cone')
        : t('draw.cone_of', { power: format.keratometry(input.cone.kmaxD) }),
  };
  const side = (where: 'left' | 'right') => t(nose === where ? 'draw.nose' : 'draw.temple');
  return (
    <figure className="drawing">
      <svg viewBox="0 0 260 232" role="img" aria-label={describe()}>
        <circle
          cx={CENTRE.x}
          cy={CENTRE.y}
          r={RADIUS}
          fill="var(--paper)"
          stroke="var(--line)"
          strokeWidth="2"
        />
        {Array.from({ length: 24 }, (_, i) => {
          const [a, b] = [
            onCircle(CENTRE, RADIUS, i * 15),
            onCircle(CENTRE, RADIUS - (i % 6 === 0 ? 9 : 5), i * 15),
          ];
          return <line key={i} x1={a.x} y1={a.y} x2={b.x} y2={b.y} stroke="var(--line)" strokeWidth="1.5" />;
        })}
        <line
          x1={CENTRE.x - 72}
          y1={CENTRE.y}
          x2={CENTRE.x + 72}
          y2={CENTRE.y}
          stroke="var(--line)"
          strokeWidth="1.2"
        />
        {cone && (
          <>
            <circle cx={cone.x} cy={cone.y} r="32" fill="var(--amber-soft)" />
            <circle cx={cone.x} cy={cone.y} r="16" fill="var(--amber)" opacity="0.28" />
          </>
        )}
        {input.steepAxisDeg !== null && <Axis at={input.steepAxisDeg} length={96} kind="steep" />}
        {input.lensAxisDeg !== null && (
          <>
            <Axis at={input.lensAxisDeg} length={90} kind="lens" />
            <path
              d={arcPath(CENTRE, 66, 0, input.lensAxisDeg % 180)}
              fill="none"
              stroke="var(--sea)"
              strokeWidth="1.6"
            />
            <text
              {...onCircle(CENTRE, 82, (input.lensAxisDeg % 180) / 2)}
              className="drawing__value"
              textAnchor="middle"
              dy="4"
            >
              {format.degrees(input.lensAxisDeg)}
            </text>
          </>
        )}
        {cone && (
          <text
            x={cone.x}
            y={cone.y > CENTRE.y ? Math.min(cone.y + 44, 206) : Math.max(cone.y - 36, 30)}
            textAnchor="middle"
            className="drawing__amber"
          >
            {cone.label}
          </text>
        )}
        <text
          transform={`translate(15 ${CENTRE.y}) rotate(-90)`}
          textAnchor="middle"
          className="drawing__side"
        >
          {side('left')}
        </text>
        <text
          transform={`translate(250 ${CENTRE.y}) rotate(90)`}
          textAnchor="middle"
          className="drawing__side"
        >
          {side('right')}
        </text>
      </svg>
      <figcaption>
        <b>{t('draw.as_you_face_it', { eye: capitals })}</b>
        {input.turnDeg !== null && Math.round(input.turnDeg) !== 0 && (
          <span>
            {' '}
            ·{' '}
            {t(input.turnDeg > 0 ? 'draw.turn_ccw' : 'draw.turn_cw', {
              turn: format.degrees(Math.abs(input.turnDeg)),
            })}
          </span>
        )}
      </figcaption>
    </figure>
  );

  function describe(): string {
    const parts = [t('draw.as_you_face_it', { eye: capitals }), `${t('draw.nose')}: ${t(`draw.on_${nose}`)}`];
    if (input.lensAxisDeg !== null)
      parts.push(t('draw.lens_axis_at', { axis: format.degrees(input.lensAxisDeg) }));
    if (input.steepAxisDeg !== null)
      parts.push(t('draw.steep_at', { axis: format.degrees(input.steepAxisDeg) }));
    if (cone) parts.push(cone.label);
    return parts.join('. ');
  }
}

function Axis({ at, length, kind }: { at: number; length: number; kind: 'steep' | 'lens' }) {
  const [a, b] = meridian(CENTRE, length, at);
  const steep = kind === 'steep';
  return (
    <line
      x1={a.x}
      y1={a.y}
      x2={b.x}
      y2={b.y}
      stroke={steep ? 'var(--muted)' : 'var(--sea)'}
      strokeWidth={steep ? 1.6 : 3.2}
      strokeLinecap="round"
      strokeDasharray={steep ? '5 4' : undefined}
    />
  );
}
