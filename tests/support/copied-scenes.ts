import type { Superuser } from './superuser.js';

/** What a copy of a scene takes with it, in an order that its keys ask for. */
const tables = ['patient', 'eye_case', 'plan', 'lens_order', 'signature', 'lens_unit'] as const;

/** Names that are unique in the network: each copy's says which copy it is. */
const numbered = (name: string) => `${name} || '-' || lpad(n::text, 7, '0')`;
const unique: Record<string, string> = {
  'patient.code_name': numbered('t.code_name'),
  'eye_case.code': numbered('t.code'),
  // In the form of the published schema, which makers hold orders to; the original's number stands for the month.
  'lens_order.number': `left(t.number, 3) || right(t.number, 4) || '-' || lpad(n::text, 6, '0')`,
  'lens_unit.serial': numbered('t.serial'),
};

/** The key of the copy numbered `n` in SQL, from its original's. */
export const keyOfCopy = (key: string): string => `md5(${key}::text || n)::uuid`;

/** How far back a copy lies: what is under way began within forty days, what has ended within six years. */
const openDays = 40;
const endedDays = 2190;

export interface Copies {
  /** The orders whose patient, case, plan, order, signatures and lens are copied. */
  readonly orderIds: readonly string[];
  readonly each: number;
  readonly ended: boolean;
}

/**
 * Copies scenes that the use cases played, as many as are asked for, by the database itself and past its checks:
 * nothing else makes a million orders in minutes. Every copy has keys of its own (from its original's key and its
 * number, so that what belongs together stays together), and its days lie back; lead times spread over five weeks.
 */
export async function copyScenes(db: Superuser, { orderIds, each, ended }: Copies): Promise<void> {
  const originals = await db.rows<{ table: string; ids: string[] }>(
    `with o as (select * from lens_order where id = any ($1)), c as (select * from eye_case where id in (select case_id from o))
     select 'lens_order' as table, array_agg(id::text) as ids from o
     union all select 'eye_case', array_agg(id::text) from c
     union all select 'patient', array_agg(distinct patient_id::text) from c
     union all select 'plan', array_agg(plan_id::text) from o
     union all select 'signature', array_agg(id::text) from signature where order_id in (select id from o)
     union all select 'lens_unit', array_agg(id::text) from lens_unit where order_id in (select id from o)`,
    [orderIds],
  );
  const idsOf = new Map(originals.map(({ table, ids }) => [table, ids ?? []]));
  await db.rows('set session_replication_role = replica');
  for (const table of tables) {
    const ids = idsOf.get(table) ?? [];
    if (ids.length === 0) continue;
    const columns = await db.rows<{ name: string; type: string }>(
      `select column_name as name, data_type as type from information_schema.columns
       where table_schema = 'public' and table_name = $1 and is_generated = 'NEVER' order by ordinal_position`,
      [table],
    );
    const copied = [...idsOf.values()].flat();
    const values = columns.map(({ name, type }) => valueOf(table, name, type, ended));
    await db.rows(
      `insert into "${table}" (${columns.map(({ name }) => `"${name}"`).join(', ')})
       select ${values.join(', ')} from "${table}" t, generate_series(1, ${each}) n,
         lateral (select make_interval(days => (n * 7919) % ${ended ? endedDays - openDays : openDays}${ended ? ` + ${openDays}` : ''}) as back) s
       where t.id = any ($1::uuid[]) and $2::uuid[] is not null`,
      [ids, copied],
    );
  }
  await db.rows('set session_replication_role = origin');
}

function valueOf(table: string, name: string, type: string, ended: boolean): string {
  const own = `t."${name}"`;
  const named = unique[`${table}.${name}`];
  if (named !== undefined) return named;
  if (ended && (name === 'arrived_at' || name === 'received_at'))
    return `${own} - s.back + make_interval(days => 8 + (n * 31) % 25)`;
  if (ended && name === 'lead_days') return '8 + (n * 31) % 25';
  if (type === 'uuid') return `case when ${own} = any ($2::uuid[]) then ${keyOfCopy(own)} else ${own} end`;
  if (type === 'date') return `(${own} - s.back)::date`;
  if (type.startsWith('timestamp')) return `${own} - s.back`;
  return own;
}
