import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { z } from 'zod';
import type { OrderPage } from '@lensferry/contracts';
import { orderStates } from '@lensferry/domain';
import { writeCursor, type Cursor } from '../../apps/api/dist/platform/cursor.js';
import { countSql, pageSql, type Listed, type Ordering } from '../../apps/api/dist/platform/keyset.js';
import { Prisma } from '../../apps/api/dist/platform/prisma-client/client.js';
import type { Work } from '../../apps/api/dist/platform/work.js';
import { holdsOf, ledgerEntries, newestFirst } from '../../apps/api/dist/ledger/ledger.queries.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { manyOrders } from '../support/many-orders.js';
import type { Superuser } from '../support/superuser.js';

type Page = z.infer<typeof OrderPage>;
const expected = {
  recent: 'opened_at desc, id desc',
  due: `coalesce(need_by, 'infinity'::date), id`,
  code: 'number',
};

describe('a list', () => {
  let house: House;
  let db: Superuser;
  let mara: Person;
  beforeAll(async () => {
    house = await openHouse();
    db = await manyOrders(house, 60);
    mara = await house.signIn('mara');
  });
  afterAll(async () => {
    await db?.close();
    await house?.close();
  });
  const page = async (query: string, cursor: string | null = null) => {
    const answer = await mara.get<Page>(
      `/api/orders?${query}${cursor === null ? '' : `&cursor=${encodeURIComponent(cursor)}`}`,
    );
    expect(answer.status, JSON.stringify(answer.body)).toBe(200);
    return answer.body;
  };
  const idsOf = ({ items }: Page) => items.map(({ id }) => id);

  it.each(['recent', 'due', 'code'] as const)(
    'is read by %s to its end and back, none twice, none left out',
    async (sort) => {
      const all = (await db.rows<{ id: string }>(`select id from lens_order order by ${expected[sort]}`)).map(
        ({ id }) => id,
      );
      const pages: Page[] = [await page(`sort=${sort}&perPage=9`)];
      while (pages.at(-1)!.next !== null)
        pages.push(await page(`sort=${sort}&perPage=9`, pages.at(-1)!.next));
      expect(pages.flatMap(idsOf)).toEqual(all);
      expect(pages[0]!.previous).toBeNull();
      for (let at = pages.length - 1; at > 0; at -= 1) {
        const before = await page(`sort=${sort}&perPage=9`, pages[at]!.previous);
        expect(idsOf(before)).toEqual(idsOf(pages[at - 1]!));
        expect(before.next).not.toBeNull();
      }
    },
  );

  it('stays within its states, its clinic and what is searched for', async () => {
    const [clinic] = await db.rows<{ id: string }>(`select id from clinic where code = 'NOR'`);
    const query = `sort=due&perPage=200&state=sent&clinicId=${clinic!.id}&q=-00000`;
    const { items, total, totalIsLeast } = await page(query);
    expect(items).toHaveLength(20);
    expect([total, totalIsLeast]).toEqual([20, false]);
    expect(new Set(items.map(({ state, clinic: { name } }) => `${state} ${name}`)).size).toBe(1);
  });

  it('shows what is new where it belongs, and repeats nothing, when rows come in between two pages', async () => {
    const first = await page('sort=recent&perPage=10');
    await db.rows(`update lens_order set opened_at = now() + interval '1 day' where id = $1`, [
      (await page('sort=recent&perPage=10', first.next)).items[5]!.id,
    ]);
    const second = await page('sort=recent&perPage=10', first.next);
    expect(idsOf(second).filter((id) => idsOf(first).includes(id))).toEqual([]);
  });

  it('refuses a cursor of another order, a broken one, and one with a value that is none', async () => {
    const { next } = await page('sort=recent&perPage=5');
    const id = '00000000-0000-4000-8000-000000000000';
    for (const cursor of [
      next!,
      'nonsense',
      Buffer.from('["due","after"]').toString('base64url'),
      writeCursor({ sort: 'due', side: 'after', key: 9e15, ties: [id] }),
      writeCursor({ sort: 'due', side: 'after', key: 'x', ties: [id] }),
      writeCursor({ sort: 'due', side: 'after', key: 0, ties: [`${id}'`] }),
    ]) {
      const { status, body } = await mara.get<{ code: string }>(`/api/orders?sort=due&cursor=${cursor}`);
      expect([status, body.code], cursor).toEqual([400, 'list.cursor-unreadable']);
    }
  });
});

describe('a long list', () => {
  let house: House;
  let db: Superuser;
  beforeAll(async () => {
    house = await openHouse();
    db = await manyOrders(house, 50_000);
  }, 120_000);
  afterAll(async () => {
    await db?.close();
    await house?.close();
  });

  const orderings: (Ordering & { from: string })[] = [
    {
      name: 'recent',
      column: 'opened_at',
      kind: 'instant',
      descending: true,
      from: `extract(epoch from opened_at) * 1000`,
    },
    {
      name: 'due',
      column: 'need_by',
      kind: 'day',
      optional: true,
      from: `extract(epoch from need_by) * 1000`,
    },
    { name: 'code', column: 'number', kind: 'text', from: 'number' },
  ];

  it.each(orderings)('costs by $name the same at its start and deep within it', async ({ from, ...by }) => {
    const [deep] = await db.rows<{ id: string; key: string }>(
      `select id, (${from})::text as key from lens_order where need_by is not null
       order by ${by.column} ${by.descending ? 'desc' : 'asc'} offset 60000 limit 1`,
    );
    const key = by.kind === 'text' ? deep!.key : Number(deep!.key);
    const cursor = { sort: by.name, side: 'after', key, ties: [deep!.id] } as const;
    await expectAsCheap(orders, by, cursor, 2 * 3 * 26);
  });

  it('of a ledger costs the same at its start and deep within it', async () => {
    await db.rows(`update lens_order set shipped_at = opened_at where state = 'accepted'`);
    await db.rows('vacuum analyze lens_order');
    const [deep] = await db.rows<{ id: string; key: string }>(
      `select id, (extract(epoch from shipped_at) * 1000)::text as key from lens_order
       where shipped_at is not null order by shipped_at desc, id desc offset 20000 limit 1`,
    );
    const ledger = { table: ledgerEntries, where: holdsOf({}) };
    const cursor = { sort: 'recent', side: 'after', key: Number(deep!.key), ties: [deep!.id] } as const;
    await expectAsCheap(ledger, newestFirst, cursor, 2 * 26);
  });

  it('counts the few that are in a state without looking at the many that are not', async () => {
    await db.rows(`update lens_order set state = 'quarantined' where right(number, 4) = '0007'`);
    await db.rows('vacuum analyze lens_order');
    const [{ few } = { few: 0 }] = await db.rows<{ few: number }>(
      `select count(*)::int as few from lens_order where state = 'quarantined'`,
    );
    expect(few).toBeGreaterThan(5);
    const rare = { ...orders, states: { ...orders.states!, values: ['quarantined', 'disputed'] } };
    const { nodes, read } = await costOfSql((work) => countSql(work, rare, { perPage: 25 }));
    expect(nodes).not.toContain('Seq Scan');
    expect(read).toBeGreaterThanOrEqual(few);
    expect(read).toBeLessThanOrEqual(few + 6);
  });

  const orders: Listed = {
    table: 'lens_order',
    states: { column: 'state', type: '"OrderState"', values: orderStates },
    where: [],
  };

  /** A page after the cursor is sought as the first is, and neither reads more rows than it may. */
  async function expectAsCheap(
    listed: Listed,
    by: Ordering,
    cursor: Cursor,
    mostRows: number,
  ): Promise<void> {
    const first = await costOf(listed, by, null);
    const later = await costOf(listed, by, cursor);
    for (const cost of [first, later]) {
      expect(cost.nodes).not.toContain('Seq Scan');
      expect(cost.nodes).not.toContain('Bitmap Heap Scan');
      expect(cost.read).toBeGreaterThan(0);
      expect(cost.read).toBeLessThanOrEqual(mostRows);
    }
    expect(later.buffers).toBeLessThanOrEqual(first.buffers * 1.2 + 20);
  }

  const costOf = (listed: Listed, by: Ordering, cursor: Cursor | null) =>
    costOfSql((work) => pageSql(work, listed, by, { perPage: 25 }, cursor));

  async function costOfSql(sqlFor: (work: Work) => Prisma.Sql) {
    const actor = {
      kind: 'coordinator',
      personId: null,
      name: '',
      clinicIds: house.network.clinics.map(({ id }) => id),
    } as const;
    const plan = await house.database.work(actor, async (work: Work) => {
      const sql = sqlFor(work);
      return work.tx.$queryRaw<{ 'QUERY PLAN': Plan[] }[]>(
        Prisma.sql`explain (analyze, buffers, format json) ${sql}`,
      );
    });
    return tally(plan[0]!['QUERY PLAN'][0]!.Plan!);
  }
});

interface Plan {
  Plan?: Plan;
  Plans?: Plan[];
  'Node Type': string;
  'Relation Name'?: string;
  'Actual Rows': number;
  'Actual Loops': number;
  'Rows Removed by Filter'?: number;
  'Shared Hit Blocks': number;
  'Shared Read Blocks': number;
}

/** Rows that a plan takes from the table, the ways it takes them, and the pages it looks at. */
function tally(plan: Plan): { nodes: string[]; read: number; buffers: number } {
  const nodes: string[] = [];
  let read = 0;
  const walk = (node: Plan) => {
    if (node['Relation Name'] === 'lens_order') {
      nodes.push(node['Node Type']);
      read += (node['Actual Rows'] + (node['Rows Removed by Filter'] ?? 0)) * node['Actual Loops'];
    }
    node.Plans?.forEach(walk);
  };
  walk(plan);
  return { nodes, read: Math.round(read), buffers: plan['Shared Hit Blocks'] + plan['Shared Read Blocks'] };
}
