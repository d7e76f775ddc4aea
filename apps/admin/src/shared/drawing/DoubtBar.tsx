import type { ReactNode } from 'react';
import { percentOn } from './scales';
import './drawing.css';

interface Props {
  low: number;
  middle: number;
  high: number;
  min: number;
  max: number;
  strong?: boolean;
  /** Words for who can't see it. */
  label: string;
  children?: ReactNode;
}

/** The sign of doubt: a hatched bar where 8 in 10 will fall, a dot for the middle; open where it goes on outside. */
export function DoubtBar({ low, middle, high, min, max, strong = false, label, children }: Props) {
  const left = percentOn(low, min, max);
  const classes = [
    'doubt__bar',
    strong && 'doubt__bar--strong',
    low < min && 'doubt__bar--open-left',
    high > max && 'doubt__bar--open-right',
  ];
  return (
    <div className="doubt" role="img" aria-label={label}>
      {children}
      {high > min && low < max && (
        <span
          className={classes.filter(Boolean).join(' ')}
          style={{ left: `${left}%`, width: `${Math.max(1.5, percentOn(high, min, max) - left)}%` }}
        />
      )}
      {middle >= min && middle <= max && (
        <span className="doubt__dot" style={{ left: `${percentOn(middle, min, max)}%` }} />
      )}
    </div>
  );
}
