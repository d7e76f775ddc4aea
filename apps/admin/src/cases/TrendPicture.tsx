import { useTranslate } from 'react-admin';
import { useFormat, useToday } from '../shared/format/use-format';
import { trendOf, type Reading } from './trend';

const WIDTH = 300;
const HEIGHT = 88;

interface Props {
  title: string;
  unit: string;
  readings: readonly Reading[];
  /** How far readings of an unchanged eye scatter around their mean, in the same unit; null when not known. */
  noise: number | null;
}

/** How one number went over time, with the band of the measurement's own noise. */
export function TrendPicture({ title, unit, readings, noise }: Props) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday();
  const trend = trendOf(readings, noise, WIDTH, HEIGHT);
  const label = trend.points.map(
    ({ reading }) => `${format.date.day(reading.takenOn, today)}: ${format.withUnit(reading.value, unit)}`,
  );
  const ends = [trend.points[0], trend.points.at(-1)];
  return (
    <figure className="drawing trend">
      <figcaption>
        <b>{title}</b> {noise !== null && t('measure.noise', { noise: format.withUnit(noise, unit) })}
      </figcaption>
      <svg
        viewBox={`-44 -8 ${WIDTH + 56} ${HEIGHT + 30}`}
        role="img"
        aria-label={`${title}. ${label.join('; ')}`}
      >
        {trend.band && (
          <rect
            x="-6"
            width={WIDTH + 12}
            y={trend.band.top}
            height={trend.band.bottom - trend.band.top}
            fill="url(#hatch)"
          />
        )}
        {trend.marks.map(({ y, value }) => (
          <g key={value}>
            <line x1="-6" x2={WIDTH + 6} y1={y} y2={y} stroke="var(--line)" />
            <text x="-10" y={y + 4} textAnchor="end" className="drawing__small">
              {format.plain(value)}
            </text>
          </g>
        ))}
        <polyline
          points={trend.points.map(({ x, y }) => `${x},${y}`).join(' ')}
          fill="none"
          stroke="var(--sea)"
          strokeWidth="1.6"
        />
        {trend.points.map(({ x, y, reading }) => (
          <circle key={reading.takenOn + x} cx={x} cy={y} r="4" fill="var(--sea)" />
        ))}
        {trend.points.length > 1 &&
          ends.map((point, i) => (
            <text
              key={i}
              x={point?.x}
              y={HEIGHT + 18}
              textAnchor={i === 0 ? 'start' : 'end'}
              className="drawing__small"
            >
              {point && format.date.day(point.reading.takenOn, today)}
            </text>
          ))}
      </svg>
    </figure>
  );
}
