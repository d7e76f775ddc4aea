import { COUNTED_AT_MOST } from '@lensferry/contracts';
import { readCursor, writeCursor, type Cursor } from './cursor.js';
import { Prisma } from './prisma-client/client.js';
import type { Work } from './work.js';

/** An order of a list: by one column, which an index on (clinic_id[, <state>_key], column, ties) serves. */
export interface Ordering {
  readonly name: string;
  readonly column: string;
  readonly kind: 'instant' | 'day' | 'text';
  /** A day that may not be set: those come last, by an index over the same expression. */
  readonly optional?: boolean;
  readonly descending?: boolean;
}

/** What a list is cut from. The names are ours, never a request's. */
export interface Listed {
  readonly table: string;
  /** The column of states, all its values or those that are asked for; `<column>_key` beside it is what is sought. */
  readonly states?: { readonly column: string; readonly type: string; readonly values: readonly string[] };
  /** Makes the order total: `id` where nothing else is said. */
  readonly ties?: readonly { readonly column: string; readonly type: 'uuid' | 'bigint' }[];
  /** What else must hold of a row, called `r`. */
  readonly where: readonly Prisma.Sql[];
}

export interface Asked {
  readonly cursor?: string | undefined;
  readonly perPage: number;
  readonly clinicId?: string | undefined;
}

export interface Cut {
  /** The rows' ties in order: their ids, where nothing else was said. */
  readonly keys: readonly (readonly string[])[];
  readonly total: number;
  readonly totalIsLeast: boolean;
  readonly next: string | null;
  readonly previous: string | null;
}

const idTie = [{ column: 'id', type: 'uuid' }] as const;
const raw = Prisma.raw;
type Row = { key: Date | string | null } & Record<string, unknown>;

/**
 * One page of a list. Each clinic and state is read by itself from where the page begins, no further than the page
 * is long, and the pieces are merged: so a page costs the same wherever it lies, however long the list is, and
 * whichever share of it the person may see.
 * @throws DomainError `list.cursor-unreadable`.
 */
export async function cutPage(work: Work, listed: Listed, by: Ordering, asked: Asked): Promise<Cut> {
  const ties = listed.ties ?? idTie;
  const cursor = asked.cursor === undefined ? null : readCursor(asked.cursor, by.name, by.kind, ties.length);
  const back = cursor?.side === 'before';
  const rows = await work.tx.$queryRaw<Row[]>(pageSql(work, listed, by, asked, cursor));
  const isMore = rows.length > asked.perPage;
  const here = rows.slice(0, asked.perPage);
  if (back) here.reverse();
  const place = (row: Row | undefined, side: Cursor['side']) =>
    row === undefined
      ? null
      : writeCursor({ sort: by.name, side, key: keyOf(row), ties: tiesOf(row, ties.length) });
  const counted = await work.tx.$queryRaw<{ count: bigint }[]>(countSql(work, listed, asked));
  const count = Number(counted[0]?.count ?? 0);
  return {
    keys: here.map((row) => tiesOf(row, ties.length)),
    total: Math.min(count, COUNTED_AT_MOST),
    totalIsLeast: count > COUNTED_AT_MOST,
    next: back || isMore ? place(here.at(-1), 'after') : null,
    previous: (back ? isMore : cursor !== null) ? place(here[0], 'before') : null,
  };
}

/** The one statement that a page is read with. */
export function pageSql(
  work: Work,
  listed: Listed,
  by: Ordering,
  asked: Asked,
  cursor: Cursor | null,
): Prisma.Sql {
  const ties = listed.ties ?? idTie;
  const falling = (by.descending ?? false) !== (cursor?.side === 'before');
  const keyed = by.optional
    ? `(case when r.${by.column} is null then 'infinity'::date else r.${by.column} end)`
    : `r.${by.column}`;
  const direction = falling ? 'desc' : 'asc';
  const order = [keyed, ...ties.map(({ column }) => `r.${column}`)].map((one) => `${one} ${direction}`);
  const merged = ['sorted', ...ties.map((_, at) => `tie${at}`)].map((one) => `${one} ${direction}`);
  const begins =
    cursor === null
      ? []
      : [
          Prisma.sql`(${raw([keyed, ...ties.map(({ column }) => `r.${column}`)].join(', '))})
          ${raw(falling ? '<' : '>')} (${Prisma.join([
            keyValue(cursor.key, by.kind),
            ...cursor.ties.map((value, at) => Prisma.sql`${value}::${raw(ties[at]?.type ?? 'uuid')}`),
          ])})`,
        ];
  const limit = asked.perPage + 1;
  return Prisma.sql`
    select page.key, ${raw(ties.map((_, at) => `page.tie${at}::text`).join(', '))}
    from ${pieces(work, listed, asked)}
    cross join lateral (
      select r.${raw(by.column)} as key, ${raw(keyed)} as sorted,
        ${raw(ties.map(({ column }, at) => `r.${column} as tie${at}`).join(', '))}
      from ${raw(listed.table)} r
      where ${Prisma.join([ofPiece(listed), ...listed.where, ...begins], ' and ')}
      order by ${raw(order.join(', '))}
      limit ${limit}
    ) page
    order by ${raw(merged.join(', '))}
    limit ${limit}`;
}

/** The statement that counts a list, each piece no further than is told: few open orders are found among a million that have ended. */
export function countSql(work: Work, listed: Listed, asked: Asked): Prisma.Sql {
  const limit = COUNTED_AT_MOST + 1;
  return Prisma.sql`select count(*) as count from (
    select 1 from ${pieces(work, listed, asked)}
    cross join lateral (
      select 1 from ${raw(listed.table)} r
      where ${Prisma.join([ofPiece(listed), ...listed.where], ' and ')}
      limit ${limit}
    ) piece
    limit ${limit}) counted`;
}

/** Each clinic with each state: what an index holds together. */
const pieces = (work: Work, { states }: Listed, asked: Asked): Prisma.Sql => Prisma.sql`
  unnest(${clinicsOf(work, asked)}::uuid[]) as c(clinic)
  cross join unnest(${states?.values ?? ['']}::text[]) as s(state)`;

const ofPiece = ({ states }: Listed): Prisma.Sql =>
  states === undefined
    ? Prisma.sql`r.clinic_id = c.clinic`
    : Prisma.sql`r.clinic_id = c.clinic
        and r.${raw(`${states.column}_key`)} = hashenum(s.state::${raw(states.type)})
        and r.${raw(states.column)} = s.state::${raw(states.type)}`;

const clinicsOf = ({ actor }: Work, { clinicId }: Asked): string[] =>
  actor.clinicIds.filter((id) => clinicId === undefined || id === clinicId);

function keyValue(key: Cursor['key'], kind: Ordering['kind']): Prisma.Sql {
  if (kind === 'text') return Prisma.sql`${String(key)}`;
  if (key === null) return Prisma.sql`'infinity'::date`;
  const instant = new Date(Number(key)).toISOString();
  return kind === 'day' ? Prisma.sql`${instant.slice(0, 10)}::date` : Prisma.sql`${instant}::timestamptz`;
}

const keyOf = ({ key }: Row): Cursor['key'] => (key instanceof Date ? key.getTime() : key);
const tiesOf = (row: Row, count: number): string[] =>
  Array.from({ length: count }, (_, at) => String(row[`tie${at}`]));

/** Rows in the order of their ids, whatever order they were read in. */
export function inOrderOf<T extends { id: string }>(keys: Cut['keys'], rows: readonly T[]): T[] {
  const byId = new Map(rows.map((row) => [row.id, row]));
  return keys.flatMap(([id = '']) => byId.get(id) ?? []);
}

/** Whether a text holds another one, capitals aside. */
export const holds = (column: string, text: string): Prisma.Sql =>
  Prisma.sql`strpos(lower(${raw(column)}), lower(${text})) > 0`;

/** Ids of the cases whose code, or whose patient's code name, holds a text. */
export const casesThatHold = (text: string): Prisma.Sql => Prisma.sql`
  select c.id from eye_case c join patient p on p.clinic_id = c.clinic_id and p.id = c.patient_id
  where ${holds('c.code', text)} or ${holds('p.code_name', text)}`;
