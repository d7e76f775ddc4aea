import { DomainError } from '../errors.js';
import type { ActorKind } from '../roles.js';

/** One row of a lifecycle: an event takes a thing from one of some states to another, by some actors. */
export interface Step<State extends string, Event extends string> {
  readonly event: Event;
  readonly from: readonly State[];
  readonly to: State;
  readonly by: readonly ActorKind[];
}

/** A lifecycle as data: its name for messages, its states in order, and its steps. */
export interface Lifecycle<State extends string, Event extends string> {
  readonly name: string;
  readonly states: readonly State[];
  readonly first: readonly State[];
  readonly steps: readonly Step<State, Event>[];
}

/** The steps that an actor can take from a state, in the order of the table. */
export function stepsFrom<S extends string, E extends string>(
  lifecycle: Lifecycle<S, E>,
  state: S,
  actor: ActorKind,
): readonly Step<S, E>[] {
  return lifecycle.steps.filter((step) => step.from.includes(state) && step.by.includes(actor));
}

/**
 * The state that an event leads to.
 * @throws DomainError `<name>.step-not-allowed` (conflict) when the state has no such step, and
 * `<name>.step-not-yours` (forbidden) when it has one but not for this actor.
 */
export function nextState<S extends string, E extends string>(
  lifecycle: Lifecycle<S, E>,
  state: S,
  event: E,
  actor: ActorKind,
): S {
  const rows = lifecycle.steps.filter((step) => step.event === event);
  const open = rows.find((step) => step.from.includes(state));
  if (open === undefined) {
    throw new DomainError(
      'conflict',
      `${lifecycle.name}.step-not-allowed`,
      `This ${lifecycle.name} is ${words(state)}, so "${words(event)}" is not possible; reload to see its present state.`,
      { state, event, possible: stepsFrom(lifecycle, state, actor).map((step) => step.event) },
    );
  }
  if (!open.by.includes(actor)) {
    throw new DomainError(
      'forbidden',
      `${lifecycle.name}.step-not-yours`,
      `"${words(event)}" is for ${list(open.by)}, not for ${actor}.`,
      { state, event, by: open.by },
    );
  }
  return open.to;
}

/** The states that no step leaves. */
export function endsOf<S extends string, E extends string>(lifecycle: Lifecycle<S, E>): readonly S[] {
  return lifecycle.states.filter((state) => !lifecycle.steps.some((step) => step.from.includes(state)));
}

/** An identifier as words for a sentence: `changes_requested` reads "changes requested". */
export function words(identifier: string): string {
  return identifier.replaceAll(/[_-]/g, ' ');
}

function list(items: readonly string[]): string {
  return items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} or ${items.at(-1)}`;
}
