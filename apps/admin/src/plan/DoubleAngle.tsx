import { useTranslate } from 'react-admin';
import type { SpheroCylinder } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';
import { doubleAngleOf } from './double-angle';
import type { WhatIf } from './what-if';

const RADIUS = 104;

/** Where the cylinder that is left would lie: the middle, and a cloud of what such eyes end with. */
export function DoubleAngle({ result, target }: { result: WhatIf; target: SpheroCylinder }) {
  const t = useTranslate();
  const format = useFormat();
  const plot = doubleAngleOf(result.outcome.cloud, result.predicted, target, RADIUS);
  const { p10, p90 } = result.outcome.cylinderD;
  const label = t('plan.plot_label', {
    predicted: format.lens(result.predicted),
    range: format.diopterRange(p10, p90),
  });
  return (
    <figure className="drawing">
      <svg viewBox="-150 -128 300 256" role="img" aria-label={label}>
        {plot.rings.map(({ cylinderD, radius }) => (
          <circle key={cylinderD} r={radius} fill="none" stroke="var(--line)" />
        ))}
        <path d={`M ${-RADIUS} 0 H ${RADIUS} M 0 ${-RADIUS} V ${RADIUS}`} stroke="var(--line)" />
        {plot.cloud.map(({ x, y }, i) => (
          <circle key={i} cx={x} cy={y} r="2" fill="var(--sea)" opacity="0.32" />
        ))}
        {plot.rings.map(({ cylinderD, radius }) => (
          <text
            key={cylinderD}
            x={radius * 0.707 + 3}
            y={-radius * 0.707 - 3}
            className="drawing__small drawing__halo"
          >
            {format.withUnit(cylinderD, 'D')}
          </text>
        ))}
        <circle
          cx={plot.target.x}
          cy={plot.target.y}
          r="7"
          fill="none"
          stroke="var(--moss)"
          strokeWidth="2"
          strokeDasharray="3 2"
        />
        <circle
          cx={plot.predicted.x}
          cy={plot.predicted.y}
          r="5.5"
          fill="var(--sea)"
          stroke="var(--paper)"
          strokeWidth="1.5"
        />
        <text x={RADIUS + 8} y="4" className="drawing__small">
          180°
        </text>
        <text x={-RADIUS - 8} y="4" textAnchor="end" className="drawing__small">
          90°
        </text>
        <text y={-RADIUS - 8} textAnchor="middle" className="drawing__small">
          45°
        </text>
        <text y={RADIUS + 18} textAnchor="middle" className="drawing__small">
          135°
        </text>
      </svg>
      <figcaption>
        <b>{t('plan.cylinder_left')}</b> · {t('plan.plot_note')}
      </figcaption>
    </figure>
  );
}
