import type { ReactNode } from 'react';

export type Tone = 'sea' | 'plain' | 'moss' | 'amber' | 'brick';

/** A short word on a soft ground. The word says it; the colour only helps. */
export function Pill({ tone = 'sea', children }: { tone?: Tone; children: ReactNode }) {
  return <span className={tone === 'sea' ? 'pill' : `pill pill--${tone}`}>{children}</span>;
}
