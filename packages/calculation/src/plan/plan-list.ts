import { CalculationError } from '../calculation-error.js';
import { planEye } from './plan-eye.js';
import type { Plan, PlanSettings } from './plan-types.js';
import { readPlanInput } from './read-plan-input.js';

/** An eye that could not be computed, in its place among the plans. */
export interface FailedPlan {
  /** The id as given; null where it cannot be told. */
  readonly id: string | number | null;
  readonly error: {
    readonly code: string;
    readonly field: string;
    readonly value?: string | number | boolean | null;
    readonly range: string;
    readonly message: string;
  };
}

/**
 * The plans of untrusted eyes, one for each and in order; an eye that cannot be computed gives its
 * error in its place. An id that an earlier eye already had is refused, because nobody could tell
 * which plan is whose.
 * Never throws for bad input.
 * @source docs/schema/plan-output.schema.json
 * @example planList([{ id: "A1" }])[0] // { id: "A1", error: { field: "eye", … } }
 */
export function planList(eyes: readonly unknown[], settings: PlanSettings = {}): (Plan | FailedPlan)[] {
  const places = new Map<string, number>();
  return eyes.map((raw, i) => {
    try {
      const id = idOf(raw);
      const before = id === null ? undefined : places.get(String(id));
      if (id !== null && before === undefined) places.set(String(id), i + 1);
      if (before !== undefined) throw duplicate(id, before);
      return planEye(readPlanInput(raw, `eyes[${i}]`), settings);
    } catch (error) {
      if (error instanceof CalculationError) return failed(idOf(raw), error);
      throw error;
    }
  });
}

function idOf(raw: unknown): string | number | null {
  if (typeof raw !== 'object' || raw === null) return null;
  const { id } = raw as { id?: unknown };
  return typeof id === 'string' || (typeof id === 'number' && Number.isFinite(id)) ? id : null;
}

function duplicate(id: unknown, before: number): CalculationError {
  return new CalculationError(
    'input.duplicate',
    'id',
    id,
    'used by one eye only',
    `id ${JSON.stringify(id)} was already used by eye number ${before}; give each eye its own.`,
  );
}

function failed(id: string | number | null, error: CalculationError): FailedPlan {
  const { code, field, range, message } = error;
  const value = plainValue(error.value);
  return { id, error: { code, field, ...(value === undefined ? {} : { value }), range, message } };
}

/** What JSON can hold of the offending value: JSON has no NaN, and a whole object says nothing. */
function plainValue(value: unknown): string | number | boolean | null | undefined {
  if (typeof value === 'number') return Number.isFinite(value) ? value : String(value);
  if (typeof value === 'string') return value.length > 200 ? `${value.slice(0, 200)}…` : value;
  if (typeof value === 'boolean' || value === null || value === undefined) return value;
  return Array.isArray(value) ? 'a list' : 'an object';
}
