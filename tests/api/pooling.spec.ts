import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PooledOutcomes } from '../../packages/contracts/src/index.js';
import { dice } from '../../apps/api/dist/demo/eyes.js';
import { tell } from '../../apps/api/dist/demo/tell.js';
import { contributeToPool } from '../../apps/api/dist/outcomes/contribute-to-pool.js';
import { keepPoolParts, withdrawSmallParts } from '../../apps/api/dist/outcomes/pool.store.js';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { connectionAs } from '../../apps/api/dist/platform/database.js';
import type { Work } from '../../apps/api/dist/platform/work.js';
import { openHouse, type House } from '../support/house.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

const id = (n: number): string => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
const ids = (from: number, count: number): string[] => Array.from({ length: count }, (_, i) => id(from + i));

describe('pooling across clinics', () => {
  const now = new Date();
  const clock = new SetClock(now);
  let house: House;
  let root: Superuser;
  let app: pg.Client;
  const clinicId = (code: string): string =>
    house.network.clinics.find((clinic) => clinic.code === code)?.id ?? '';

  beforeAll(async () => {
    house = await openHouse({ clock });
    root = await asSuperuser(house.db);
    app = new pg.Client({ connectionString: connectionAs('lensferry_app', house.db.databaseUrl) });
    await app.connect();
    const cast = { ...house.network, database: house.database, clock };
    const moments = (['EST', 'NOR', 'HAR'] as const)
      .flatMap((clinic, c) => [0, 1, 2, 3, 4].map((i) => ({ clinic, seed: c * 10 + i })))
      .flatMap(({ clinic, seed }) =>
        tell(
          cast,
          { ending: 'closed', clinic, maker: seed % 2 ? 'QUILLON' : 'FENNICK', daysAgo: 500 + seed * 3 },
          seed,
          dice(91 + seed * 101),
          now,
        ),
      )
      .map((moment, order) => ({ ...moment, order }))
      .sort((a, b) => a.at.getTime() - b.at.getTime() || a.order - b.order);
    for (const { at, run } of moments) {
      clock.set(at);
      await run();
    }
    clock.set(now);
    await contributeToPool(house.database);
  }, 240_000);
  afterAll(async () => {
    await app?.end();
    await root?.close();
    await house?.close();
  });

  const asClinics = async <T extends object>(scope: readonly string[], text: string): Promise<T[]> => {
    await app.query('begin');
    try {
      await app.query(`select set_config('app.clinic_ids', $1, true)`, [`{${scope.join(',')}}`]);
      return (await app.query<T>(text)).rows;
    } finally {
      await app.query('rollback');
    }
  };
  const give = (
    code: string,
    day: string,
    subjects: readonly string[],
    value: number,
    of = 'probe',
  ): Promise<number> =>
    house.database.work(
      { kind: 'worker', personId: null, name: 'Pool', clinicIds: [clinicId(code)] },
      (work: Work) =>
        keepPoolParts(work, clinicId(code), day, [
          { kind: 'results', of, eyes: subjects.length, subjects, sums: [subjects.length, value] },
        ]),
    );
  const pool = (scope: readonly string[], part = 'probe') =>
    asClinics<{ clinics: number; eyes: number; sums: number[] }>(
      scope,
      `select * from pooled_sums('results') where part = '${part}'`,
    );

  it('shows what the others found, equal to their own sums added, and names none of them', async () => {
    const nikos = await house.signIn('nikos');
    const { status, body } = await nikos.get<PooledOutcomes>('/api/outcomes/pooled');
    expect(status).toBe(200);
    const row = body.rows.find(({ measure }) => measure === 'withinOneD');
    expect(row?.own?.n).toBe(5);
    expect(row?.others).toMatchObject({ n: 10, clinics: 2 });
    const parts = await root.rows(
      `select sum(sums[3])::float8 as within, sum(sums[1])::float8 as n from pool_part
       where kind = 'results' and of = 'all' and clinic_id <> '${clinicId('HAR')}'`,
    );
    expect(row?.others?.estimate).toBeCloseTo(Number(parts[0]?.['within']) / Number(parts[0]?.['n']), 12);
    const told = JSON.stringify(body);
    for (const { name } of await root.rows('select name from clinic')) expect(told).not.toContain(name);
    expect(told).not.toMatch(/[0-9a-f]{8}-[0-9a-f]{4}-/);
  });

  it('answers nobody who could subtract: with two of three clinics in sight, the third stays unseen', async () => {
    const ilse = await house.signIn('ilse');
    const { body } = await ilse.get<PooledOutcomes>('/api/outcomes/pooled');
    expect(body.rows.length).toBeGreaterThan(0);
    expect(body.rows.every(({ others }) => others === null)).toBe(true);
  });

  it('lets the database’s role reach no row of another clinic, not even its part of the pool', async () => {
    const own = clinicId('HAR');
    for (const table of ['pool_part', 'patient', 'eye_case', 'measurement', 'lens_order']) {
      const rows = await asClinics<{ clinic_id: string }>([own], `select clinic_id from ${table}`);
      expect(rows.length, table).toBeGreaterThan(0);
      expect(new Set(rows.map(({ clinic_id }) => clinic_id)), table).toEqual(new Set([own]));
    }
    const [result] = await asClinics([own], `select * from pooled_sums('results')`);
    expect(Object.keys(result ?? {}).sort()).toEqual(['clinics', 'eyes', 'newest', 'oldest', 'part', 'sums']);
    await expect(
      root.rows(
        `insert into pool_part values ('${own}', gen_random_uuid(), 'results', 'tiny', now(), 4, array[]::uuid[], '{1}')`,
      ),
    ).rejects.toThrow(/no_small_parts/);
  });

  it('gives nothing of fewer than five patients, and moves by none or by five and more', async () => {
    expect(await give('EST', '2026-01-01', ids(1, 4), 4)).toBe(0);
    await give('EST', '2026-01-01', ids(1, 6), 60);
    await give('NOR', '2026-01-01', ids(101, 6), 600);
    const asker = [clinicId('HAR')];
    const before = await pool(asker);
    expect(before).toMatchObject([{ clinics: 2, eyes: 12, sums: [12, 660] }]);
    // One more patient, four more, one replaced, one corrected, a second time the same month: the answer stands still.
    const near: (readonly [string, string[], number])[] = [
      ['2026-02-01', ids(1, 7), 77],
      ['2026-02-01', ids(1, 10), 99],
      ['2026-02-01', [...ids(1, 5), id(50)], 61],
      ['2026-02-01', ids(1, 6), 59],
      ['2026-01-01', ids(1, 12), 120],
    ];
    for (const [day, subjects, value] of near) {
      expect(await give('EST', day, subjects, value), `${day} ${value}`).toBe(0);
      expect(await pool(asker)).toEqual(before);
    }
    // The same eyes under another name of the same thing are a near question too.
    expect(await give('EST', '2026-02-01', ids(1, 8), 80, 'probe|other inputs')).toBe(0);
    expect(await give('EST', '2026-02-01', ids(1, 11), 110)).toBe(1);
    const [after] = await pool(asker);
    expect((after?.sums[0] ?? 0) - (before[0]?.sums[0] ?? 0)).toBe(5);
  });

  it('has no two parts of the same eyes that could be taken from each other', async () => {
    const parts = await root.rows(
      `select clinic_id, kind, of, subjects from pool_part where kind in ('results', 'refraction') and of <> all ('{probe,heavy}')`,
    );
    expect(parts).toHaveLength(6);
    for (const { clinic_id, subjects, of } of parts) {
      const sets = parts.filter((part) => part['clinic_id'] === clinic_id).map((part) => part['subjects']);
      expect(of).toBe('all');
      for (const set of sets) expect(set).toEqual(subjects);
    }
  });

  it('drops a part that fell below five, and lets it back with five new ones only', async () => {
    const [part, asker] = ['fallen', [clinicId('HAR')]];
    await give('EST', '2026-01-01', ids(1, 6), 60, part);
    await give('NOR', '2026-01-01', ids(101, 6), 600, part);
    await give('HAR', '2026-01-01', ids(201, 6), 6, part);
    expect(await pool(asker, part)).toMatchObject([{ eyes: 12 }]);
    const left = (subjects: readonly string[]): Promise<number> =>
      house.database.work(
        { kind: 'worker', personId: null, name: 'Pool', clinicIds: [clinicId('EST')] },
        async (work: Work) => {
          const others = (await work.tx.poolPart.findMany()).filter(({ of }) => of !== part);
          const all = others.map(({ kind, of, eyes, subjects: whose, sums }) => ({
            kind: kind as 'results',
            of,
            eyes,
            subjects: whose,
            sums,
          }));
          const fallen = {
            kind: 'results',
            of: part,
            eyes: subjects.length,
            subjects,
            sums: [1, 1],
          } as const;
          return withdrawSmallParts(work, clinicId('EST'), [...all, fallen]);
        },
      );
    expect(await left(ids(1, 5))).toBe(0);
    expect(await pool(asker, part)).toMatchObject([{ eyes: 12 }]);
    expect(await left(ids(1, 4))).toBe(1);
    // One clinic is left beside the asker's, and one alone is never told.
    expect(await pool(asker, part)).toEqual([]);
    expect(await left([])).toBe(0);
    expect(await give('EST', '2026-02-01', [...ids(1, 4), id(60)], 50, part)).toBe(0);
    expect(await pool(asker, part)).toEqual([]);
    expect(await give('EST', '2026-03-01', ids(1, 11), 110, part)).toBe(1);
    expect(await pool(asker, part)).toMatchObject([{ eyes: 17 }]);
  });

  it('is silent where one clinic would outweigh the other', async () => {
    await give('EST', '2026-01-01', ids(1, 40), 40, 'heavy');
    await give('NOR', '2026-01-01', ids(101, 5), 5, 'heavy');
    expect(await pool([clinicId('HAR')], 'heavy')).toEqual([]);
  });
});
