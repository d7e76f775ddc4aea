import type pg from 'pg';
import { entryHash, genesis } from './audit.js';

/** Something wrong with a clinic's record, with the entry it is about. */
export interface ChainFault {
  readonly kind: 'changed' | 'removed' | 'inserted' | 'head';
  /** The entry's number; for `head` the number that the head gives. */
  readonly seq: number;
  readonly sentence: string;
}

/** The last link of a clinic's record: kept elsewhere, it proves that nothing before it was written anew. */
export interface ChainHead {
  readonly clinicId: string;
  readonly clinic: string;
  readonly seq: number;
  readonly hash: string;
}

export interface ChainReport extends ChainHead {
  readonly faults: readonly ChainFault[];
}

/** What the walk keeps of an entry: its links, and whether its hash is that of what it says. */
interface Link {
  readonly seq: number;
  readonly prev: string;
  readonly hash: string;
  readonly holds: boolean;
  readonly what: string;
}
type Client = Pick<pg.Client, 'query'>;

const page = 5000;

/**
 * Computes every clinic's chain anew and names each entry that was changed, removed or inserted. `kept` are heads that
 * were exported before: without them, a record written anew from some entry to its head can't be told from the old one.
 * `client` must be in a transaction that sees one picture (repeatable read), or what is added meanwhile looks put in.
 */
export async function verifyChains(client: Client, kept: readonly ChainHead[] = []): Promise<ChainReport[]> {
  const { rows } = await client.query<{ id: string; name: string; seq: string | null; hash: string | null }>(
    `select c.id, c.name, h.seq, h.hash from clinic c left join audit_head h on h.clinic_id = c.id order by c.name`,
  );
  const reports: ChainReport[] = [];
  for (const { id, name, seq, hash } of rows) {
    const links = await readLinks(client, id);
    const head = { clinicId: id, clinic: name, seq: Number(seq ?? 0), hash: hash ?? genesis };
    const before = kept.find(({ clinicId }) => clinicId === id);
    const faults = [...(await walk(client, head, links)), ...against(before, links)];
    reports.push({ ...head, faults: faults.sort((a, b) => a.seq - b.seq) });
  }
  return reports;
}

/** Follows the chain from its head to its beginning by the hashes on record. */
async function walk(client: Client, head: ChainHead, links: readonly Link[]): Promise<ChainFault[]> {
  const byHash = new Map(links.map((link) => [link.hash, link]));
  const bySeq = new Map(links.map((link) => [link.seq, link]));
  const faults: ChainFault[] = [];
  const visited = new Set<Link>();
  let wanted = head.hash;
  let after: Link | undefined;
  for (let place = head.seq; place > 0; place -= 1) {
    const link = [byHash.get(wanted), bySeq.get(place)].find(
      (found) => found !== undefined && !visited.has(found),
    );
    if (link === undefined) {
      faults.push({ kind: 'removed', seq: place, sentence: `Entry ${place} is missing.` });
      // The entry before a missing one can only be found by its number.
      wanted = bySeq.get(place - 1)?.hash ?? '';
      after = undefined;
      continue;
    }
    visited.add(link);
    const holds = link.seq === place ? link.holds : await holdsAt(client, head.clinicId, link.seq, place);
    if (!holds) faults.push(changed(place, link, 'its hash is not that of what it says'));
    else if (link.hash !== wanted) faults.push(...brokenLink(place, link, after, head));
    wanted = link.prev;
    after = holds ? link : { ...link, holds: false };
  }
  if (wanted !== genesis && after?.holds === true && head.seq > 0)
    faults.push({ kind: 'removed', seq: 0, sentence: 'Entries before the first one are missing.' });
  for (const link of links)
    if (!visited.has(link))
      faults.push({
        kind: 'inserted',
        seq: link.seq,
        sentence: `Entry ${link.seq} was put in: ${link.what}.`,
      });
  return faults;
}

const changed = (seq: number, link: Link, how: string): ChainFault => ({
  kind: 'changed',
  seq,
  sentence: `Entry ${seq} was changed: ${how} (${link.what}).`,
});

/** The entry is whole in itself but not the one that what follows it points to. */
function brokenLink(place: number, link: Link, after: Link | undefined, head: ChainHead): ChainFault[] {
  // An entry that was changed is on the list already; where it points says nothing of this one.
  if (after !== undefined && !after.holds) return [];
  if (after === undefined && place === head.seq)
    return [
      {
        kind: 'head',
        seq: place,
        sentence: `The head does not point to entry ${place} (${link.what}): one of the two was changed.`,
      },
    ];
  return [changed(place, link, `entry ${place + 1} was written after another one`)];
}

function against(kept: ChainHead | undefined, links: readonly Link[]): ChainFault[] {
  if (kept === undefined || kept.seq === 0) return [];
  const now = links.find(({ seq }) => seq === kept.seq);
  if (now?.hash === kept.hash) return [];
  return [
    {
      kind: 'head',
      seq: kept.seq,
      sentence: `The head that was kept, entry ${kept.seq}, is not in this record: it was written anew at or before it.`,
    },
  ];
}

interface Row {
  seq: string;
  at: Date;
  actor_id: string | null;
  actor_name: string;
  actor_kind: string;
  action: string;
  case_id: string | null;
  order_id: string | null;
  lens_id: string | null;
  facts: unknown;
  why: string | null;
  prev: string;
  hash: string;
}

const hashAt = (clinicId: string, row: Row, seq: number): string =>
  entryHash({
    clinicId,
    seq: BigInt(seq),
    at: row.at,
    actorId: row.actor_id,
    actorName: row.actor_name,
    actorKind: row.actor_kind,
    action: row.action,
    caseId: row.case_id,
    orderId: row.order_id,
    lensId: row.lens_id,
    facts: row.facts,
    why: row.why,
    prev: row.prev,
  });

async function readLinks(client: Client, clinicId: string): Promise<Link[]> {
  const links: Link[] = [];
  for (let from: string | null = null; ;) {
    const { rows }: { rows: Row[] } = await client.query<Row>(
      `select * from audit_entry where clinic_id = $1 and ($2::bigint is null or seq > $2) order by seq limit ${page}`,
      [clinicId, from],
    );
    for (const row of rows)
      links.push({
        seq: Number(row.seq),
        prev: row.prev,
        hash: row.hash,
        holds: hashAt(clinicId, row, Number(row.seq)) === row.hash,
        what: `${row.action} by ${row.actor_name} at ${row.at.toISOString()}`,
      });
    from = rows.at(-1)?.seq ?? null;
    if (rows.length < page) return links;
  }
}

/** Whether an entry that bears one number was written under another. */
async function holdsAt(client: Client, clinicId: string, seq: number, place: number): Promise<boolean> {
  const { rows } = await client.query<Row>(`select * from audit_entry where clinic_id = $1 and seq = $2`, [
    clinicId,
    seq,
  ]);
  const [row] = rows;
  return row !== undefined && hashAt(clinicId, row, place) === row.hash;
}
