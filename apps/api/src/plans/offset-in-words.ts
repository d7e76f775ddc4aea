import type { OfferedOffset } from '@lensferry/contracts';

const dioptres = (value: number): string =>
  `${value < 0 ? '−' : '+'}${Math.abs(Math.round(value * 100) / 100).toFixed(2)}`;

/** The offset that a plan was made with, as a signature says it; the reason stays with the plan, which no maker gets. */
export function offsetInWords({ mean, j0, j45, n }: OfferedOffset, planNumber: number): string {
  const part = (name: string, { estimateD, lowD, highD }: OfferedOffset['mean']): string =>
    `${name} ${dioptres(estimateD)} D (${dioptres(lowD)} to ${dioptres(highD)})`;
  return `It was planned with a learned offset of refraction, ${part('mean power', mean)}, ${part('J0', j0)}, ${part('J45', j45)}, from ${n} eyes, for the reason written in plan ${planNumber}.`;
}
