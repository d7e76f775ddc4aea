import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeCursor } from '../../../apps/api/dist/platform/cursor.js';
import type { Person } from '../../support/house.js';
import { middle } from './many-asks.js';
import { loadNetwork, type Load } from './network.js';

const orders = Number(process.env['ORDERS'] ?? 1_000_000);
const perPage = 100;
const turns = 21;
const wanted = 1.2;

/** The first page of the longest list and its last but one, asked in turns; and what a list of a clinic's day costs. */
describe('a million orders', { timeout: 3_600_000 }, () => {
  let load: Load;
  let mara: Person;
  beforeAll(async () => {
    load = await loadNetwork(orders);
    const perMinute = (load.orders / load.seconds) * 60;
    console.log(
      `${load.orders.toLocaleString('en')} orders with their cases, plans and lenses loaded in ${load.seconds.toFixed(0)} s (${Math.round(perMinute).toLocaleString('en')} a minute)`,
    );
    mara = await load.house.signIn('mara');
  }, 3_600_000);
  afterAll(() => load?.close());

  const timed = async (path: string): Promise<number> => {
    const from = performance.now();
    const { status } = await mara.get(path);
    expect(status).toBe(200);
    return performance.now() - from;
  };

  it.each([
    ['recent', 'opened_at desc, id desc', 'extract(epoch from opened_at) * 1000'],
    ['code', 'number', 'number'],
  ])('cost by %s the same on the first page and on the last but one', async (sort, order, key) => {
    // Orders that have ended: those under way carry a forecast, and stand on the first pages.
    const [count] = await load.db.rows<{ n: number }>(
      `select count(*)::int as n from lens_order where state = 'accepted'`,
    );
    const page = Math.floor(count!.n / perPage) - 1;
    const [row] = await load.db.rows<{ id: string; key: string }>(
      `select id, (${key})::text as key from lens_order where state = 'accepted' order by ${order} offset ${page * perPage - 1} limit 1`,
    );
    const cursor = writeCursor({
      sort,
      side: 'after',
      key: sort === 'code' ? row!.key : Number(row!.key),
      ties: [row!.id],
    });
    const first = `/api/orders?state=accepted&sort=${sort}&perPage=${perPage}`;
    const deep = `${first}&cursor=${cursor}`;
    for (const path of [first, deep]) await timed(path);
    const times: [number, number][] = [];
    for (let turn = 0; turn < turns; turn += 1) times.push([await timed(first), await timed(deep)]);
    const ratio = middle(times.map(([one, other]) => other / one));
    console.log(
      `${ratio <= wanted ? '✓' : '✗'} by ${sort}: page 1 in ${middle(times.map(([one]) => one)).toFixed(0)} ms, page ${page.toLocaleString('en')} in ${middle(times.map(([, other]) => other)).toFixed(0)} ms: ${ratio.toFixed(2)} times (wanted: ${wanted})`,
    );
  });

  it.each(['/api/orders?state=open&sort=due', '/api/cases', '/api/lenses', '/api/makers', '/api/today'])(
    'answer %s',
    async (path) => {
      await timed(path);
      const times: number[] = [];
      for (let turn = 0; turn < 5; turn += 1) times.push(await timed(path));
      console.log(`  ${path}: ${middle(times).toFixed(0)} ms`);
    },
  );
});
