import type { DoubleAngleModel, Ellipse } from './figure-model';
import { BOX, dotsPath } from './scales';

const RADIUS = 118;
const CENTRE = { x: BOX.width / 2, y: BOX.height / 2 };
const ROUND = [0.5, 1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20];

/** Astigmatisms in double-angle space: 180° to the right, 45° up; centroid as a cross, ellipses about it. */
export function DoubleAnglePicture({ model }: { model: DoubleAngleModel }) {
  const furthest = model.points.reduce((most, { x, y }) => Math.max(most, Math.hypot(x, y)), 0.25);
  const edgeD = ROUND.find((round) => round >= furthest) ?? furthest;
  const px = (dioptres: number) => (dioptres / edgeD) * RADIUS;
  const at = ({ x, y }: { x: number; y: number }) => ({ x: CENTRE.x + px(x), y: CENTRE.y - px(y) });
  const { centre } = model;
  const middle = centre === null ? null : at(centre);
  return (
    <>
      {[0.5, 1].map((part) => (
        <g key={part}>
          <circle cx={CENTRE.x} cy={CENTRE.y} r={RADIUS * part} fill="none" stroke="var(--line)" />
          <text
            x={CENTRE.x + RADIUS * part * 0.72}
            y={CENTRE.y - RADIUS * part * 0.72}
            fontSize="11"
            fill="var(--muted)"
          >
            {model.ring.replace('#', String(edgeD * part))}
          </text>
        </g>
      ))}
      <path
        d={`M${CENTRE.x - RADIUS} ${CENTRE.y}h${2 * RADIUS}M${CENTRE.x} ${CENTRE.y - RADIUS}v${2 * RADIUS}`}
        stroke="var(--line)"
      />
      <path
        data-mark="eyes"
        d={dotsPath(model.points.map(at))}
        stroke="var(--sea)"
        strokeWidth={model.points.length > 800 ? 2.5 : 4.5}
        strokeOpacity={model.points.length > 800 ? 0.3 : 0.55}
        strokeLinecap="round"
      />
      {middle && model.spread && <Outline at={middle} of={model.spread} px={px} dashed />}
      {middle && model.ofCentroid && <Outline at={middle} of={model.ofCentroid} px={px} />}
      {middle && (
        <path
          data-mark="centroid"
          d={`M${middle.x - 6} ${middle.y}h12M${middle.x} ${middle.y - 6}v12`}
          stroke="var(--ink)"
          strokeWidth="2"
        />
      )}
      {[
        ['180°', RADIUS + 6, 4, 'start'],
        ['90°', -RADIUS - 6, 4, 'end'],
        ['45°', 0, -RADIUS - 7, 'middle'],
        ['135°', 0, RADIUS + 16, 'middle'],
      ].map(([text, x, y, anchor]) => (
        <text
          key={text}
          x={CENTRE.x + Number(x)}
          y={CENTRE.y + Number(y)}
          textAnchor={anchor as 'start' | 'middle' | 'end'}
          fontSize="11.5"
          fill="var(--muted)"
        >
          {text}
        </text>
      ))}
    </>
  );
}

function Outline(props: {
  at: { x: number; y: number };
  of: Ellipse;
  px: (dioptres: number) => number;
  dashed?: boolean;
}) {
  const { at, of, px, dashed } = props;
  return (
    <ellipse
      data-mark={dashed ? 'spread' : 'of-centroid'}
      rx={px(of.halfLongD)}
      ry={px(of.halfShortD)}
      transform={`translate(${at.x} ${at.y}) rotate(${-of.turnDeg})`}
      fill="none"
      stroke="var(--ink)"
      strokeWidth={dashed ? 1.2 : 1.8}
      {...(dashed ? { strokeDasharray: '5 4' } : {})}
    />
  );
}
