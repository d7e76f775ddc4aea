/** A fact of the record as people read it: where it lies (`values.sphereD` as its last name) and its plain value. */
export interface PlainFact {
  name: string;
  value: string | number | boolean;
  /** What it was before, for a difference. */
  before?: string | number | boolean | null;
  /** The fields of which the value holds, by their names. */
  fields?: readonly string[];
}

/** `sphereD: match`: what came of comparing a field of a pack with its order. */
const VERDICT = /^(\w+): ([a-z-]+)$/;

/** A verdict with all its fields, in place of each field with its verdict. */
function comparedFacts(compared: readonly unknown[]): PlainFact[] {
  const fieldsOf = new Map<string, string[]>();
  for (const one of compared) {
    const [, field, verdict] = VERDICT.exec(String(one)) ?? [];
    if (field && verdict) fieldsOf.set(verdict, [...(fieldsOf.get(verdict) ?? []), field]);
  }
  return [...fieldsOf].map(([value, fields]) => ({ name: 'comparison', value, fields }));
}

const isPlain = (value: unknown): value is string | number | boolean =>
  ['string', 'number', 'boolean'].includes(typeof value);

interface Difference {
  field: string;
  before: PlainFact['before'];
  after: unknown;
}
const isDifference = (value: unknown): value is Difference =>
  typeof value === 'object' && value !== null && 'field' in value && 'after' in value;

/** The facts of an entry, one under the other: nothing nested, nothing empty, no hashes (the record keeps those). */
export function plainFacts(facts: Readonly<Record<string, unknown>>): PlainFact[] {
  const { before, after, ...others } = facts;
  if (isPlain(after) && (isPlain(before) || before === null))
    return [{ name: 'change', value: after, before }, ...plainFacts(others)];
  return Object.entries(facts).flatMap(([name, value]): PlainFact[] => {
    if (name.toLowerCase().endsWith('hash') || value === null || value === undefined || value === '')
      return [];
    if (isPlain(value)) return [{ name, value }];
    if (name === 'comparison' && Array.isArray(value)) return comparedFacts(value);
    if (Array.isArray(value))
      return value.flatMap((one): PlainFact[] => {
        if (isDifference(one))
          return [
            { name: one.field, value: isPlain(one.after) ? one.after : '–', before: one.before ?? null },
          ];
        return isPlain(one) ? [{ name, value: one }] : [];
      });
    return plainFacts(value as Record<string, unknown>);
  });
}
