import type pg from 'pg';

export type Client = Pick<pg.Client, 'query'>;

/** A column as PostgreSQL names its type. */
export interface Column {
  readonly name: string;
  readonly type: string;
}

export interface Table {
  readonly name: string;
  readonly columns: readonly Column[];
  readonly key: readonly string[];
}

/** Sign-ins end with a restore, or one that was ended since the backup would live again. */
export const leftOut = ['_prisma_migrations', 'session'];

/** Quotes a name of the database. */
export const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;

/** What this product's tables hold, those first that others point to; what PostgreSQL computes itself is not in it. */
export async function readTables(client: Client): Promise<Table[]> {
  const { rows } = await client.query<Table & { needs: string[] }>(
    `select c.relname as name,
       (select json_agg(json_build_object('name', a.attname, 'type', format_type(a.atttypid, a.atttypmod)) order by a.attnum)
        from pg_attribute a where a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped and a.attgenerated = '') as columns,
       (select json_agg(a.attname order by k.place) from pg_index i
        cross join unnest(i.indkey::int[]) with ordinality as k(attnum, place)
        join pg_attribute a on a.attrelid = c.oid and a.attnum = k.attnum
        where i.indrelid = c.oid and i.indisprimary) as key,
       coalesce((select json_agg(distinct f.confrelid::regclass::text) from pg_constraint f
        where f.conrelid = c.oid and f.contype = 'f' and f.confrelid <> c.oid), '[]') as needs
     from pg_class c where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p')
       and c.relname <> all ($1) order by c.relname`,
    [leftOut],
  );
  const sorted: Table[] = [];
  const open = new Map(rows.map((row) => [row.name, row]));
  while (open.size > 0) {
    const ready = [...open.values()].filter(({ needs }) =>
      needs.every((name) => !open.has(name.replaceAll('"', ''))),
    );
    if (ready.length === 0)
      throw new Error(`These tables point to one another in a circle: ${[...open.keys()].join(', ')}.`);
    for (const { name, columns, key } of ready) {
      sorted.push({ name, columns, key });
      open.delete(name);
    }
  }
  return sorted;
}
