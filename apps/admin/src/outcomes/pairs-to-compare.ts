import type { OutcomeComparison, OutcomeReport } from '@lensferry/contracts';

export type Choices = OutcomeReport['choices'];
export type Pair = { key: string; by: OutcomeComparison['by']; first: string; second: string; label: string };

/** Pairs that can be compared: the fixed ones, and the two largest groups of each kind. */
export function pairsOf(choices: Choices, t: (key: string) => string): Pair[] {
  const pair = (by: Pair['by'], a: [string, string], b: [string, string]): Pair => ({
    key: `${by}:${a[0]}:${b[0]}`,
    by,
    first: a[0],
    second: b[0],
    label: `${t(`outcome.by.${by}`)}: ${a[1]} / ${b[1]}`,
  });
  const fixed = (by: 'cylinder' | 'cone', a: string, b: string) =>
    pair(by, [a, t(`outcome.${by}.${a}`)], [b, t(`outcome.${by}.${b}`)]);
  const largest = (by: keyof Choices) => {
    const [a, b] = [...choices[by]].sort((x, y) => y.n - x.n);
    const name = (label: string) => (by === 'procedure' ? t(`choice.${label}`) : label);
    return a && b ? [pair(by, [a.value, name(a.label)], [b.value, name(b.label)])] : [];
  };
  return [
    fixed('cylinder', 'below4', 'from4'),
    fixed('cone', 'central', 'decentred'),
    ...(['clinic', 'surgeon', 'maker', 'design', 'procedure'] as const).flatMap(largest),
  ];
}
