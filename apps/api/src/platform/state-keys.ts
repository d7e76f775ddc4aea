import type { CaseStage, LensState, OrderState } from '@lensferry/domain';
import type { Work } from './work.js';

/** Rows in some states, as an index finds them. */
export interface Within {
  orders(states: readonly OrderState[]): { state: { in: OrderState[] }; stateKey: { in: number[] } };
  cases(stages: readonly CaseStage[]): { stage: { in: CaseStage[] }; stageKey: { in: number[] } };
  lenses(states: readonly LensState[]): { state: { in: LensState[] }; stateKey: { in: number[] } };
}

/**
 * What finds rows by their state without reading them all. With row-level security PostgreSQL seeks no enum in an
 * index; the integer beside it, which it seeks, is another in every database, so it is asked for.
 */
export function within(work: Work): Promise<Within> {
  const asked = known.get(work) ?? ask(work);
  known.set(work, asked);
  return asked;
}
const known = new WeakMap<Work, Promise<Within>>();

async function ask({ tx }: Work): Promise<Within> {
  const rows = await tx.$queryRaw<{ state: string; key: number }[]>`
    select 'order ' || s as state, hashenum(s) as key from unnest(enum_range(null::"OrderState")) s
    union all select 'case ' || s, hashenum(s) from unnest(enum_range(null::"CaseStage")) s
    union all select 'lens ' || s, hashenum(s) from unnest(enum_range(null::"LensState")) s`;
  const keys = new Map(rows.map(({ state, key }) => [state, key]));
  const keysOf = (kind: string, states: readonly string[]): number[] =>
    states.map((state) => {
      const key = keys.get(`${kind} ${state}`);
      if (key === undefined) throw new Error(`The database knows no ${kind} ${state}.`);
      return key;
    });
  return {
    orders: (states) => ({ state: { in: [...states] }, stateKey: { in: keysOf('order', states) } }),
    cases: (stages) => ({ stage: { in: [...stages] }, stageKey: { in: keysOf('case', stages) } }),
    lenses: (states) => ({ state: { in: [...states] }, stateKey: { in: keysOf('lens', states) } }),
  };
}
