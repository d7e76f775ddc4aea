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

/** The sign of doubt: a hatched bar where 8 in 10 will fall, a dot for the middle. */
export function DoubtBar({ low, middle, high, min, max, strong = false, label, children }: Props) {
  const left = percentOn(low, min, max);
  return (
    <div className="doubt" role="img" aria-label={label}>
      {children}
      <span
        className={strong ? 'doubt__bar doubt__bar--strong' : 'doubt__bar'}
        style={{ left: `${left}%`, width: `${Math.max(1.5, percentOn(high, min, max) - left)}%` }}
      />
      <span className="doubt__dot" style={{ left: `${percentOn(middle, min, max)}%` }} />
    </div>
  );
}
