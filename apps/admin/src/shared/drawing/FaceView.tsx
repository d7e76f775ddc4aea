import { useTranslate } from 'react-admin';
import { eyeInCapitals, type Eye } from '@lensferry/domain';
import { useFormat } from '../format/use-format';
import { Axis, CENTRE, Cone, ConeLabel, LensAxis, Limbus, PX_PER_MM } from './face-marks';
import { noseSide, onCircle } from './face-view';
import './drawing.css';

export interface FaceViewInput {
  eye: Eye;
  steepAxisDeg: number | null;
  /** Where the lens's axis lies before it is turned. */
  lensAxisDeg: number | null;
  /** The turn to make, counter-clockwise positive; null or 0 for none. */
  turnDeg: number | null;
  cone: { distanceMm: number; directionDeg: number; kmaxD: number | null } | null;
}

/** The eye as one faces it: the cornea's steep meridian, the cone, the lens axis and the turn to make. */
export function FaceView({ input }: { input: FaceViewInput }) {
  const t = useTranslate();
  const format = useFormat();
  const { cone, lensAxisDeg, steepAxisDeg } = input;
  const turnDeg = input.turnDeg ?? 0;
  const turned = Math.round(turnDeg) !== 0;
  const lies =
    lensAxisDeg === null ? null : format.degrees(Math.round(lensAxisDeg + turnDeg + 180) % 180 || 180);
  const nose = noseSide(input.eye);
  const whole = t('draw.as_you_face_it', { eye: t(`eye.capitals.${eyeInCapitals[input.eye]}`) });
  const at = cone && onCircle(CENTRE, cone.distanceMm * PX_PER_MM, cone.directionDeg);
  const coneLabel =
    cone &&
    (cone.kmaxD === null ? t('draw.cone') : t('draw.cone_of', { power: format.keratometry(cone.kmaxD) }));
  const turn =
    turned && t(turnDeg > 0 ? 'draw.turn_ccw' : 'draw.turn_cw', { turn: format.degrees(Math.abs(turnDeg)) });
  const described = [
    whole,
    `${t('draw.nose')}: ${t(`draw.on_${nose}`)}`,
    lies && t('draw.lens_axis_at', { axis: lies }),
    steepAxisDeg !== null && t('draw.steep_at', { axis: format.degrees(steepAxisDeg) }),
    coneLabel,
    turn,
  ];
  const side = (where: 'left' | 'right') => t(nose === where ? 'draw.nose' : 'draw.temple');
  return (
    <figure className="drawing">
      <svg viewBox="0 0 260 232" role="img" aria-label={described.filter(Boolean).join('. ')}>
        <Limbus />
        {at && <Cone at={at} />}
        {steepAxisDeg !== null && <Axis at={steepAxisDeg} length={96} kind="steep" />}
        {lensAxisDeg !== null && <LensAxis axisDeg={lensAxisDeg} turnDeg={turnDeg} label={lies ?? ''} />}
        {at && coneLabel && <ConeLabel at={at} label={coneLabel} />}
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
        <b>{whole}</b>
        {turn && <span> · {turn}</span>}
      </figcaption>
    </figure>
  );
}
