import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canonicalHash, entryHash } from '../../apps/api/dist/platform/audit.js';
import { verifyChains, type ChainFault, type ChainHead } from '../../apps/api/dist/platform/verify-chain.js';
import { openHouse, type House } from '../support/house.js';
import { implant, sceneAt } from '../support/scenes.js';

type Row = Record<string, unknown> & { seq: string; hash: string; prev: string; at: Date };

describe('the record', () => {
  let house: House;
  let client: pg.Client;
  let clinicId = '';
  let last = 0;
  let tried = 0;

  beforeAll(async () => {
    house = await openHouse();
    for (const clinic of ['EST', 'NOR', 'HAR'] as const) {
      const scene = await sceneAt(house, 'accepted', { clinic });
      if (clinic === 'EST') await implant(scene);
    }
    client = new pg.Client({ connectionString: house.db.superuserUrl });
    await client.connect();
    clinicId = house.network.clinics.find(({ code }) => code === 'EST')!.id;
    last = Number(
      (await client.query('select seq from audit_head where clinic_id = $1', [clinicId])).rows[0].seq,
    );
  });
  afterAll(async () => {
    await client?.end();
    await house?.close();
  });

  const faults = async (kept: ChainHead[] = []): Promise<ChainFault[]> => {
    const reports = await verifyChains(client, kept);
    for (const report of reports) if (report.clinicId !== clinicId) expect(report.faults).toEqual([]);
    return [...reports.find((report) => report.clinicId === clinicId)!.faults];
  };
  /** What the verifier says of a record that somebody with every right has tampered with; undone afterwards. */
  const after = async (tamper: () => Promise<unknown>, kept?: ChainHead[]): Promise<string[]> => {
    tried += 1;
    await client.query('begin');
    try {
      await tamper();
      return (await faults(kept)).map(({ kind, seq }) => `${kind} ${seq}`);
    } finally {
      await client.query('rollback');
    }
  };
  const sql = (text: string, ...values: unknown[]) => client.query(text, [clinicId, ...values]);
  const entry = async (seq: number): Promise<Row> =>
    (await sql('select * from audit_entry where clinic_id = $1 and seq = $2', seq)).rows[0];
  const hashOf = (row: Row): string =>
    entryHash({
      clinicId,
      seq: BigInt(row.seq),
      at: row.at,
      actorId: row['actor_id'] as string | null,
      actorName: row['actor_name'] as string,
      actorKind: row['actor_kind'] as string,
      action: row['action'] as string,
      caseId: row['case_id'] as string | null,
      orderId: row['order_id'] as string | null,
      lensId: row['lens_id'] as string | null,
      facts: row['facts'],
      why: row['why'] as string | null,
      prev: row.prev,
    });
  const places = () => [1, 2, Math.ceil(last / 2), last - 1, last];
  const copyTo = (seq: number, prev: string, hash = 'f'.repeat(64)) =>
    sql(
      `insert into audit_entry select clinic_id, $2, at, actor_id, actor_name, actor_kind, action, case_id, order_id,
       lens_id, facts, why, $3, $4 from audit_entry where clinic_id = $1 and seq = 1`,
      seq,
      prev,
      hash,
    );

  it('hashes as the published canonical form does', () => {
    // SHA-256 over RFC 8785 canonical JSON, recomputed by independent code.
    const first = { action: 'order.create', at: '2026-01-02T03:04:05.000Z', prev: '0'.repeat(64), seq: 1 };
    expect(canonicalHash(first)).toBe('a88af81a7c663954b0c52c73f327c1cb2d923e38dcf986f9c8726f6fe7fde443');
  });

  it('is whole as the product writes it', async () => {
    expect(last).toBeGreaterThan(25);
    expect(await faults()).toEqual([]);
  });

  it('names any entry in which anything was changed', async () => {
    const changes: [column: string, to: string][] = [
      ['at', `at + interval '1 millisecond'`],
      ['actor_id', 'gen_random_uuid()'],
      ['actor_name', `actor_name || ' '`],
      ['actor_kind', `'maker'`],
      ['action', `'order.forge'`],
      ['case_id', 'gen_random_uuid()'],
      ['order_id', 'gen_random_uuid()'],
      ['lens_id', 'gen_random_uuid()'],
      ['facts', `facts || '{"axisDeg": 31}'`],
      ['why', `coalesce(why, '') || '.'`],
      ['prev', `reverse(prev) || 'x'`],
      ['hash', `repeat('e', 64)`],
    ];
    for (const place of places())
      for (const [column, to] of changes) {
        const named = await after(() =>
          sql(`update audit_entry set ${column} = ${to} where clinic_id = $1 and seq = $2`, place),
        );
        expect(named, `${column} of ${place}`).toEqual([`changed ${place}`]);
      }
  });

  it('names every single entry when it is changed, and when it is removed', async () => {
    for (let seq = 1; seq <= last; seq += 1) {
      const changed = await after(() =>
        sql(`update audit_entry set facts = facts || '{"x": 1}' where clinic_id = $1 and seq = $2`, seq),
      );
      expect(changed).toEqual([`changed ${seq}`]);
      const removed = await after(() =>
        sql('delete from audit_entry where clinic_id = $1 and seq = $2', seq),
      );
      expect(removed).toEqual([`removed ${seq}`]);
    }
  });

  it('names an entry that was changed and given the hash of what it now says', async () => {
    for (const place of places()) {
      const named = await after(async () => {
        await sql(`update audit_entry set why = 'forged' where clinic_id = $1 and seq = $2`, place);
        const hash = hashOf(await entry(place));
        await sql('update audit_entry set hash = $3 where clinic_id = $1 and seq = $2', place, hash);
      });
      expect(named).toEqual([place === last ? `head ${last}` : `changed ${place}`]);
    }
  });

  it('names an entry that was put in, wherever it was', async () => {
    const { hash } = await entry(last);
    expect(await after(() => copyTo(last + 1, hash))).toEqual([`inserted ${last + 1}`]);
    expect(await after(() => copyTo(0, '0'.repeat(64)))).toEqual(['inserted 0']);
    for (const place of places().slice(1)) {
      const named = await after(async () => {
        const before = await entry(place - 1);
        await sql('update audit_entry set seq = seq + 100000 where clinic_id = $1 and seq >= $2', place);
        await sql(
          'update audit_entry set seq = seq - 99999 where clinic_id = $1 and seq >= 100000 + $2',
          place,
        );
        await copyTo(place, before.hash);
        const forged = hashOf(await entry(place));
        await sql('update audit_entry set hash = $3 where clinic_id = $1 and seq = $2', place, forged);
      });
      expect(named).toEqual([`inserted ${place}`]);
    }
  });

  it('names an entry that was removed although those after it were numbered anew', async () => {
    for (const place of places().slice(1, 4)) {
      const named = await after(async () => {
        await sql('delete from audit_entry where clinic_id = $1 and seq = $2', place);
        await sql('update audit_entry set seq = seq + 100000 where clinic_id = $1 and seq > $2', place);
        await sql(
          'update audit_entry set seq = seq - 100001 where clinic_id = $1 and seq > 100000 + $2',
          place,
        );
      });
      expect(named).toEqual([`removed ${place}`]);
    }
  });

  it('names several at once', async () => {
    const named = await after(async () => {
      await sql(`update audit_entry set why = 'forged' where clinic_id = $1 and seq in (3, 9)`);
      await sql(`delete from audit_entry where clinic_id = $1 and seq in (6, 14)`);
    });
    expect(named).toEqual(['changed 3', 'removed 6', 'changed 9', 'removed 14']);
  });

  it('says when the head was changed, set back or removed', async () => {
    const set = (to: string) => after(() => sql(`update audit_head set ${to} where clinic_id = $1`));
    expect(await set(`hash = repeat('e', 64)`)).toEqual([`head ${last}`]);
    expect(await set(`seq = seq + 1`)).not.toEqual([]);
    expect(
      await set(`seq = seq - 1, hash = (select prev from audit_entry e where e.clinic_id = $1
      and e.seq = audit_head.seq)`),
    ).toEqual([`inserted ${last}`]);
    const removed = await after(() => sql('delete from audit_head where clinic_id = $1'));
    expect(removed).toHaveLength(last);
  });

  it('finds a record written anew to its very end, by a head that was kept elsewhere', async () => {
    const kept = (await verifyChains(client)).map(({ faults: _faults, ...head }) => head);
    const rewrite = async () => {
      await sql(`update audit_entry set why = 'forged' where clinic_id = $1 and seq = 5`);
      let prev = (await entry(4)).hash;
      for (let seq = 5; seq <= last; seq += 1) {
        await sql('update audit_entry set prev = $3 where clinic_id = $1 and seq = $2', seq, prev);
        prev = hashOf(await entry(seq));
        await sql('update audit_entry set hash = $3 where clinic_id = $1 and seq = $2', seq, prev);
      }
      await sql('update audit_head set hash = $2 where clinic_id = $1', prev);
    };
    expect(await after(rewrite)).toEqual([]);
    expect(await after(rewrite, kept)).toEqual([`head ${last}`]);
  });

  it('is verified by a command that needs no more than the application’s own rights', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'lensferry-heads-'));
    const file = join(folder, 'heads.json');
    const run = (...args: string[]) =>
      promisify(execFile)(process.execPath, ['apps/api/dist/verify-audit.js', ...args], {
        env: { PATH: process.env['PATH'], DATABASE_URL: house.db.databaseUrl },
      }).then(
        ({ stdout }) => ({ code: 0, stdout }),
        (error: { code: number; stdout: string }) => ({ code: error.code, stdout: error.stdout }),
      );
    const whole = await run('--export', file);
    expect(whole).toMatchObject({ code: 0, stdout: expect.stringContaining(`${last} entries`) });
    expect(JSON.parse(await readFile(file, 'utf8'))).toHaveLength(3);
    await sql(`update audit_entry set why = 'forged' where clinic_id = $1 and seq = 7`);
    const forged = await run('--against', file);
    expect(forged.code).toBe(1);
    expect(forged.stdout).toMatch(/NOT WHOLE\n {2}Entry 7 was changed: /);
    await rm(folder, { recursive: true });
    console.log(`Audit: ${tried} tamperings of a record of ${last} entries, each found and named`);
  });
});
