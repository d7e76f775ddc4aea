import { useId } from 'react';
import { useTranslate } from 'react-admin';
import type { ArrivalCurve } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';
import { BOX, lineOf, xOf, yOf } from './curve';

const small = { fontSize: 17, fill: 'var(--muted)' } as const;

/** The share of orders that have come by each working day; hatched, where the true share may lie. */
export function ArrivalPicture({ curve, title }: { curve: ArrivalCurve; title: string }) {
  const t = useTranslate();
  const format = useFormat();
  const hatch = useId();
  const lastDay = Math.max(10, curve.lastDay);
  const { arrived, limits } = lineOf(curve, lastDay);
  const days = [0, 0.25, 0.5, 0.75, 1].map((part) => Math.round(part * lastDay));
  return (
    <svg viewBox={`0 0 ${BOX.width} ${BOX.height}`} role="img" aria-label={`${title}. ${said(t, curve)}`}>
      <defs>
        <pattern id={hatch} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line x1="0" y1="0" x2="0" y2="6" stroke="var(--sea)" strokeWidth="1.6" opacity="0.55" />
        </pattern>
      </defs>
      {[0, 0.5, 1].map((share) => (
        <g key={share}>
          <line
            x1={BOX.left}
            x2={BOX.width - BOX.right}
            y1={yOf(share)}
            y2={yOf(share)}
            stroke="var(--line)"
          />
          <text x={BOX.left - 8} y={yOf(share) + 4} textAnchor="end" {...small}>
            {format.percent(share)}
          </text>
        </g>
      ))}
      {days.map((day) => (
        <text key={day} x={xOf(day, lastDay)} y={BOX.height - BOX.bottom + 18} textAnchor="middle" {...small}>
          {day}
        </text>
      ))}
      <text x={(BOX.left + BOX.width - BOX.right) / 2} y={BOX.height - 6} textAnchor="middle" {...small}>
        {t('maker.curve.days')}
      </text>
      <path d={limits} fill={`url(#${hatch})`} />
      <path d={arrived} fill="none" stroke="var(--sea)" strokeWidth="2.2" />
    </svg>
  );
}

/** The curve in a sentence. */
export function said(t: ReturnType<typeof useTranslate>, curve: ArrivalCurve): string {
  const { medianDays, ninetyPercentDays, orders, open, cancelled } = curve;
  const parts = [t('maker.curve.counts', { smart_count: orders, open, cancelled })];
  if (medianDays !== null) parts.push(t('maker.curve.half', { smart_count: medianDays }));
  if (ninetyPercentDays !== null)
    parts.push(t('maker.curve.nine_in_ten', { smart_count: ninetyPercentDays }));
  return parts.join(' ');
}
