import { canonicalHash } from '../../../apps/api/dist/platform/audit.js';
import {
  lensLifecycle,
  orderLifecycle,
  returnLifecycle,
  type Lifecycle,
} from '../../../packages/domain/src/index.js';
import type { World } from './world.js';

type AnyLifecycle = Lifecycle<string, string>;
interface Entry {
  readonly action: string;
  readonly actor_kind: string;
  readonly before: string | null;
  readonly after: string | null;
  readonly thing: string;
  readonly place: number;
}
interface Thing {
  readonly id: string;
  readonly state: string;
  readonly first: string | null;
}

/** Replays the record against the tables of the domain: every step legal, by the right hand, and ending where the row is. */
export async function replay(world: World, caseIds: readonly string[]): Promise<string[]> {
  const against = [
    ...(await replayed(world, caseIds, orderLifecycle as AnyLifecycle, 'order_id', 'lens_order', 'case_id')),
    ...(await replayed(world, caseIds, lensLifecycle as AnyLifecycle, 'lens_id', 'lens_unit', null)),
    ...(await replayedReturns(world, caseIds)),
  ];
  return against;
}

// A lens in quarantine belongs to no case yet: its entries are found by its order.
const entriesOf = (world: World, caseIds: readonly string[], kind: string, key: string): Promise<Entry[]> =>
  world.root.rows<Entry>(
    `select action, actor_kind, facts->>'before' as before, facts->>'after' as after, ${key} as thing,
       seq::int as place
     from audit_entry where (case_id = any ($1::uuid[])
         or order_id in (select id from lens_order where case_id = any ($1::uuid[]))) and action like $2 and action <> 'lens.own' and facts ? 'after' order by seq`,
    [caseIds, `${kind}.%`],
  );

async function replayed(
  world: World,
  caseIds: readonly string[],
  lifecycle: AnyLifecycle,
  key: string,
  table: string,
  caseColumn: string | null,
): Promise<string[]> {
  const which = caseColumn ?? '(select o.case_id from lens_order o where o.id = t.order_id)';
  const things = await world.root.rows<Thing>(
    `select id, state::text as state, null as first from ${table} t where ${which} = any ($1::uuid[])`,
    [caseIds],
  );
  const entries = await entriesOf(world, caseIds, lifecycle.name, `${key}::text`);
  return things.flatMap((thing) =>
    follow(
      lifecycle,
      thing,
      entries.filter((entry) => entry.thing === thing.id),
    ),
  );
}

async function replayedReturns(world: World, caseIds: readonly string[]): Promise<string[]> {
  const things = await world.root.rows<Thing>(
    `select r.number as id, r.state::text as state, null as first from lens_return r join lens_unit l on l.id = r.lens_id
     join lens_order o on o.id = l.order_id where o.case_id = any ($1::uuid[])`,
    [caseIds],
  );
  const entries = await entriesOf(world, caseIds, 'return', `(facts->>'number')`);
  return things.flatMap((thing) =>
    follow(
      returnLifecycle as AnyLifecycle,
      thing,
      entries.filter((entry) => entry.thing === thing.id),
    ),
  );
}

function follow(lifecycle: AnyLifecycle, thing: Thing, entries: readonly Entry[]): string[] {
  const say = (what: string): string => `${lifecycle.name} ${thing.id}: ${what}`;
  const against: string[] = [];
  // A lens is born by an entry of its own, which comes from nowhere.
  const [birth] = entries;
  const born = birth?.before === null;
  let state = (born ? birth.after : birth?.before) ?? thing.state;
  if (!lifecycle.first.includes(state)) against.push(say(`began as ${state}`));
  for (const { action, actor_kind: by, before, after, place } of entries.slice(born ? 1 : 0)) {
    const event = action.slice(action.indexOf('.') + 1);
    const legal = lifecycle.steps.some(
      (step) =>
        step.event === event &&
        step.from.includes(before ?? '') &&
        step.to === after &&
        (step.by as readonly string[]).includes(by),
    );
    if (before !== state)
      against.push(say(`entry ${place} takes "${event}" from ${before}, but it was ${state}`));
    if (!legal) against.push(say(`entry ${place}: ${by} took "${event}" from ${before} to ${after}`));
    state = after ?? '';
  }
  if (state !== thing.state) against.push(say(`is ${thing.state}, by its record ${state}`));
  return against;
}

interface Sent {
  readonly number: string;
  readonly document: { specificationHash: string; lens: Record<string, unknown> } | null;
  readonly agreed: { specificationHash: string; lens: Record<string, unknown> } | null;
  readonly specification: Record<string, unknown>;
  readonly hash: string;
  readonly placed: boolean;
  readonly queued_events: number;
  readonly state: string;
  readonly signed: string[];
  readonly standing: string[];
}

/** No maker may get a lens that nobody signed, or another one than was signed. */
export async function unsignedOrders({ root }: World, caseIds: readonly string[]): Promise<string[]> {
  const rows = await root.rows<Sent>(
    `select number, document, agreed_change as agreed, specification, specification_hash as hash,
       placed_at is not null as placed, state::text as state,
       (select count(*)::int from outbox_event e where e.topic = 'order.send' and e.payload->>'orderId' = o.id::text) as queued_events,
       array(select specification_hash from signature s where s.order_id = o.id) as signed,
       array(select specification_hash from signature s where s.order_id = o.id and voided_at is null) as standing
     from lens_order o where case_id = any ($1::uuid[])`,
    [caseIds],
  );
  const against: string[] = [];
  for (const row of rows) {
    const say = (what: string): unknown => against.push(`order ${row.number}: ${what}`);
    if (canonicalHash(row.specification) !== row.hash) say('its hash is not that of its specification');
    if (!row.placed && (row.document !== null || row.queued_events > 0))
      say('left the house without being placed');
    if (!row.placed) continue;
    if (row.document === null) say('was placed without a document');
    if (row.document !== null && !row.signed.includes(row.document.specificationHash))
      say('its document holds what nobody signed');
    const inForce = row.agreed ?? row.document;
    for (const [field, value] of Object.entries(inForce?.lens ?? {}))
      if (row.specification[field] !== value) say(`${field} of its maker is not that of its specification`);
    if (row.state !== 'cancelled' && (row.standing.length !== 1 || row.standing[0] !== row.hash))
      say(`has ${row.standing.length} standing signatures, not one over what stands`);
  }
  return against;
}

/** One lens in one eye, one eye with one lens, and both sides of the book agreeing. */
export async function lensesInTwoEyes({ root }: World): Promise<string[]> {
  const rows = await root.rows<{ what: string }>(`
    select 'lens ' || lens_id || ' is in ' || count(*) || ' eyes' as what from implantation
      group by lens_id having count(*) > 1
    union all select 'case ' || case_id || ' has ' || count(*) || ' lenses in its eye' from implantation
      where explanted_on is null group by case_id having count(*) > 1
    union all select 'lens ' || l.serial || ' is ' || l.state || ' and in an eye' from lens_unit l
      join implantation i on i.lens_id = l.id and i.explanted_on is null where l.state <> 'implanted'
    union all select 'lens ' || l.serial || ' is implanted in no eye' from lens_unit l
      where l.state = 'implanted' and not exists (select from implantation i where i.lens_id = l.id and i.explanted_on is null)
    union all select 'lens ' || l.serial || ' is in the eye of another case' from lens_unit l
      join lens_order o on o.id = l.order_id join implantation i on i.lens_id = l.id where i.case_id <> o.case_id
    union all select 'case ' || case_id || ' has two live orders' from lens_order
      where state not in ('accepted', 'rejected', 'declined', 'cancelled') group by case_id having count(*) > 1
    union all select 'serial ' || serial || ' is on record twice' from lens_unit group by serial, maker_id having count(*) > 1`);
  return rows.map(({ what }) => what);
}
