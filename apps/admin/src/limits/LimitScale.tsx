import { limits, type Limit } from '@lensferry/domain';
import type { LimitNow } from '@lensferry/contracts';
import { useTellLimit } from './tell-limit';

const width = 260;
const edge = 8;

/** A limit on the line of what it can be: the ring is what is usual, the filled mark where it stands. */
export function LimitScale({ limit: { key, value } }: { limit: LimitNow }) {
  const tell = useTellLimit();
  const { least, most, usual } = limits[key] as Limit;
  const x = (at: number) => edge + ((at - least) / (most - least)) * (width - 2 * edge);
  return (
    <div className="limit-scale" aria-hidden="true">
      <svg viewBox={`0 0 ${width} 20`}>
        <line x1={edge} x2={width - edge} y1={10} y2={10} className="limit-scale__line" />
        <circle cx={x(usual)} cy={10} r={6} className="limit-scale__usual" />
        <rect x={x(value) - 2.5} y={2} width={5} height={16} rx={2} className="limit-scale__now" />
      </svg>
      <span>{tell(key, least)}</span>
      <span>{tell(key, most)}</span>
    </div>
  );
}
