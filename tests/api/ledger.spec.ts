import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LedgerBalances, LedgerPage, ReturnSummary } from '@lensferry/contracts';
import { ledgerKindOf, returnStates, type ReturnState } from '@lensferry/domain';
import { dayIn, plusDays } from '../../apps/api/dist/platform/plain-date.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { implant, sceneAt } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

const cents = (amount: string): number => Math.round(Number(amount) * 100);
const columns = ['charged', 'expected', 'credited', 'difference', 'writtenOff'] as const;

describe('the ledger', () => {
  let house: House;
  let root: Superuser;
  let oona: Person;
  const returns: Record<string, ReturnSummary> = {};
  const today = dayIn('Europe/Zurich', new Date());

  async function goBack(name: string, steps: readonly (readonly [string, object])[]): Promise<void> {
    const { lensId } = await sceneAt(house, 'rejected', { maker: 'QUILLON' });
    const [row] = await root.rows<{ id: string }>('select id from lens_return where lens_id = $1', [lensId]);
    const path = `/api/returns/${row!.id}`;
    let seen = (await oona.get<ReturnSummary>(path)).body;
    for (const [step, more] of steps) {
      const { status, body } = await oona.post<ReturnSummary>(`${path}/${step}`, {
        version: seen.version,
        ...more,
      });
      expect(status, JSON.stringify(body)).toBe(200);
      seen = body;
    }
    returns[name] = seen;
  }

  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    oona = await house.signIn('oona');
    const back = [
      ['authorise', { authorisation: 'RA-1' }],
      ['hand-over', { tracking: 'BACK 1' }],
      ['receive', {}],
    ] as const;
    await goBack('open', [back[0]]);
    const full = returns['open']!.creditExpected;
    await goBack('full', [...back, ['credit', { amount: full }]]);
    await goBack('short', [...back, ['credit', { amount: (Number(full) - 80.1).toFixed(2) }]]);
    await goBack('off', [['write-off', { why: '=HYPERLINK("http://x.example")' }]]);
    await implant(await sceneAt(house, 'accepted', { maker: 'OSTREL' }));
    await sceneAt(house, 'shipped', { maker: 'QUILLON' });
    await sceneAt(house, 'acknowledged', { maker: 'QUILLON' });
    await sceneAt(house, 'accepted', { clinic: 'NOR', maker: 'QUILLON' });
    // At noon, so that it is the same day whatever the hour and the season: clinics count in days of their own.
    await root.rows('update lens_return set opened_at = $2::timestamptz where id = $1', [
      returns['open']!.id,
      `${plusDays(dayIn('Europe/Dublin', new Date()), -40)}T12:00:00Z`,
    ]);
  }, 120_000);
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });
  /** All entries and the balances, asked for as `?…`. */
  const ask = async (query = '', who = oona) => {
    const { status, body } = await who.get<LedgerPage>(`/api/ledger?perPage=200&${query.slice(1)}`);
    expect(status, JSON.stringify(body)).toBe(200);
    expect(body.next).toBeNull();
    const sums = await who.get<LedgerBalances>(`/api/ledger/balances${query}`);
    expect(sums.status, JSON.stringify(sums.body)).toBe(200);
    return { entries: body.items, total: body.total, balances: sums.body.balances };
  };

  it('has every return exactly once, as what became of it', async () => {
    const { entries, total } = await ask();
    expect(total).toBe(entries.length);
    const found = entries.filter(({ kind }) => kind !== 'order' && kind !== 'exchange');
    expect(found.map(({ id, kind }) => `${kind} ${id}`).sort()).toEqual(
      [
        `open ${returns['open']!.id}`,
        `credited ${returns['full']!.id}`,
        `credited ${returns['short']!.id}`,
        `written_off ${returns['off']!.id}`,
      ].sort(),
    );
    const price = returns['open']!.creditExpected;
    expect(found.find(({ id }) => id === returns['short']!.id)).toMatchObject({
      credited: (Number(price) - 80.1).toFixed(2),
      difference: '-80.10',
      expected: '0.00',
    });
    for (const one of found)
      expect(
        cents(one.expected) + cents(one.credited) - cents(one.difference) + cents(one.writtenOff),
        one.kind,
      ).toBe(cents(price));
  });

  it('charges what was shipped or arrived and nothing else', async () => {
    const orders = (await ask()).entries.filter(({ kind }) => kind === 'order' || kind === 'exchange');
    const rows = await root.rows<{ id: string; price: string }>(
      `select o.id, o.price::text as price from lens_order o join clinic c on c.id = o.clinic_id
       where c.code = 'EST' and (o.shipped_at is not null or o.arrived_at is not null)`,
    );
    expect(orders.map(({ id, charged }) => `${id} ${charged}`).sort()).toEqual(
      rows.map(({ id, price }) => `${id} ${price}`).sort(),
    );
    expect(rows).toHaveLength(6);
  });

  it('has balances that are the sums of its entries, by maker and currency', async () => {
    const { balances, entries } = await ask();
    expect(balances).toHaveLength(2);
    expect(balances.reduce((n, balance) => n + balance.entries, 0)).toBe(entries.length);
    for (const balance of balances) {
      const own = entries.filter(
        ({ maker, currency }) => maker.id === balance.maker.id && currency === balance.currency,
      );
      for (const column of columns)
        expect(cents(balance[column]), column).toBe(own.reduce((sum, one) => sum + cents(one[column]), 0));
      expect(cents(balance.balance)).toBe(cents(balance.charged) - cents(balance.credited));
      expect(balance.outstanding.reduce((sum, { amount }) => sum + cents(amount), 0)).toBe(
        cents(balance.expected),
      );
    }
    const quillon = balances.find(({ entries: n }) => n > 1)!;
    expect(quillon.oldestDays).toBe(40);
    expect(quillon.outstanding.map(({ returns: n }) => n)).toEqual([0, 1, 0, 0]);
    expect(cents(quillon.writtenOff)).toBe(cents(returns['off']!.creditExpected));
  });

  it('is narrowed by maker and by days, both included, and refuses a period that ends before it begins', async () => {
    const { balances } = await ask();
    for (const { maker, entries } of balances) {
      const own = await ask(`?makerId=${maker.id}`);
      expect([own.total, own.balances.length]).toEqual([entries, 1]);
    }
    const old = await ask(`?to=${plusDays(today, -30)}`);
    expect(old.entries.map(({ id }) => id)).toEqual([returns['open']!.id]);
    const [{ on } = { on: '' }] = old.entries;
    expect((await ask(`?from=${on}&to=${on}`)).total).toBe(1);
    expect((await ask(`?from=${plusDays(on, 1)}`)).entries.some(({ id }) => id === returns['open']!.id)).toBe(
      false,
    );
    for (const path of ['/api/ledger', '/api/ledger/balances'])
      expect(await oona.get(`${path}?from=2026-02-01&to=2026-01-01`)).toMatchObject({
        status: 422,
        body: { code: 'ledger.period' },
      });
  });

  it('counts each day as its clinic does', async () => {
    const [row] = await root.rows<{ id: string }>(
      `update lens_return r set opened_at = '2026-03-03T23:30:00Z' from clinic c
       where c.id = r.clinic_id and c.code = 'EST' and r.id = $1 returning r.id`,
      [returns['open']!.id],
    );
    await root.rows(`update clinic set time_zone = 'Europe/Zurich' where code = 'EST'`);
    for (const [day, found] of [
      ['2026-03-03', []],
      ['2026-03-04', [row!.id]],
    ] as const) {
      const { entries, balances } = await ask(`?from=${day}&to=${day}`);
      expect(
        entries.map(({ id }) => id),
        day,
      ).toEqual(found);
      expect(
        balances.map(({ entries: n }) => n),
        day,
      ).toEqual(found.map(() => 1));
    }
    await root.rows(`update lens_return set opened_at = now() - interval '40 days' where id = $1`, [row!.id]);
  });

  it('is read in pages to its end and back, newest first, none twice, none left out', async () => {
    const all = (await ask()).entries;
    const page = async (cursor: string | null) =>
      (await oona.get<LedgerPage>(`/api/ledger?perPage=3${cursor === null ? '' : `&cursor=${cursor}`}`)).body;
    const pages = [await page(null)];
    while (pages.at(-1)!.next !== null) pages.push(await page(pages.at(-1)!.next));
    expect(pages.flatMap(({ items }) => items)).toEqual(all);
    expect(pages.length).toBeGreaterThan(2);
    expect(all.map(({ on }) => on)).toEqual(
      all
        .map(({ on }) => on)
        .sort()
        .reverse(),
    );
    for (let at = pages.length - 1; at > 0; at -= 1)
      expect((await page(pages[at]!.previous)).items).toEqual(pages[at - 1]!.items);
  });

  it('takes the day on which a return ended in exactly those states that are no longer open', async () => {
    const ended = await root.rows<{ state: ReturnState }>(
      `select state::text as state from unnest(enum_range(null::"ReturnState")) as state
       where hashenum(state) in (hashenum('credited'::"ReturnState"), hashenum('written_off'::"ReturnState"))`,
    );
    expect(ended.map(({ state }) => state)).toEqual(
      returnStates.filter((state) => ledgerKindOf(state) !== 'open'),
    );
  });

  it('is read by those who keep it, of their own clinics', async () => {
    for (const name of ['una', 'oona', 'ada', 'ivo'])
      expect((await (await house.signIn(name)).get('/api/ledger')).status, name).toBe(200);
    expect((await (await house.signIn('ilse')).get('/api/ledger')).status).toBe(403);
    expect((await (await house.signIn('ilse')).get('/api/ledger.csv')).status).toBe(403);
    expect(new Set((await ask()).entries.map(({ clinic }) => clinic.name)).size).toBe(1);
    const all = await ask('', await house.signIn('ada'));
    expect(new Set(all.entries.map(({ clinic }) => clinic.name)).size).toBe(2);
  });

  it('is exported whole, and no text in it is a formula', async () => {
    const answer = await house.app.inject({
      method: 'GET',
      url: '/api/ledger.csv',
      headers: { cookie: oona.cookie },
    });
    expect(answer.statusCode).toBe(200);
    expect(answer.headers['content-type']).toContain('text/csv');
    const lines = answer.payload.trimEnd().split('\r\n');
    expect(lines[0]).toBe(
      'day,maker,clinic,kind,number,currency,charged,expected,credited,difference,written_off,age_days,note',
    );
    expect(lines).toHaveLength((await ask()).total + 1);
    expect(answer.payload).toContain(`"'=HYPERLINK(""http://x.example"")"`);
    expect(answer.payload).toContain(',-80.10,');
    expect(answer.payload).not.toMatch(/(^|,|")[=+@]/m);
  });
});
