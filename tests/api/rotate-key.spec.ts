import { spawn } from 'node:child_process';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { v7 as uuid } from 'uuid';
import { newKey } from '../../apps/api/dist/config.js';
import { identityPurpose } from '../../apps/api/dist/cases/open-case.js';
import { sealedColumns } from '../../apps/api/dist/keys/sealed-texts.store.js';
import { SealedBox } from '../../apps/api/dist/platform/sealed-box.js';
import { verifyChains } from '../../apps/api/dist/platform/verify-chain.js';
import { openHouse, type House } from '../support/house.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

const people = 1500;

describe('a new identity key', () => {
  let house: House;
  let root: Superuser;
  let oldKey = '';
  const key = newKey();
  const ids: string[] = [];

  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    oldKey = house.settings.IDENTITY_KEY;
    const old = new SealedBox(oldKey);
    const clinicIds = house.network.clinics.map(({ id }) => id);
    for (let index = 0; index < people; index += 1) ids.push(uuid());
    const values = ids.map((id, index) => ({
      clinic: clinicIds[index % clinicIds.length],
      id,
      code: `Rotated ${index}`,
      sealed: old.seal(JSON.stringify({ name: `Nobody ${index}` }), identityPurpose(id)),
    }));
    const rows = `jsonb_to_recordset($1::jsonb) as r(clinic uuid, id uuid, code text, sealed text)`;
    await root.rows(
      `insert into patient (clinic_id, id, code_name, birth_year) select clinic, id, code, 1990 from ${rows}`,
      [JSON.stringify(values)],
    );
    await root.rows(
      `insert into patient_identity (clinic_id, patient_id, sealed) select clinic, id, sealed from ${rows}`,
      [JSON.stringify(values)],
    );
    const { id } = (await root.rows('select id from person limit 1'))[0]!;
    await root.rows('update person set totp_sealed = $1 where id = $2', [
      old.seal('secret', `second-factor:${id}`),
      id,
    ]);
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  const rotate = (previous: string | undefined, killAtFirstBatch = false) =>
    new Promise<{ code: number | null; told: string }>((done) => {
      const child = spawn(process.execPath, ['apps/api/dist/rotate-key.js'], {
        env: {
          PATH: process.env['PATH'],
          DATABASE_URL: house.db.databaseUrl,
          IDENTITY_KEY: key,
          ...(previous === undefined ? {} : { IDENTITY_KEY_PREVIOUS: previous }),
        },
      });
      let told = '';
      const hear = (chunk: Buffer) => {
        told += chunk;
        if (killAtFirstBatch && told.includes('sealed anew')) child.kill('SIGKILL');
      };
      child.stdout.on('data', hear);
      child.stderr.on('data', hear);
      child.once('close', (code) => done({ code, told }));
    });
  const sealedWith = async (box: SealedBox): Promise<number> =>
    Number(
      (
        await root.rows('select count(*) as count from patient_identity where starts_with(sealed, $1)', [
          box.mark,
        ])
      )[0]!['count'],
    );
  const digest = async () =>
    (
      await root.rows(`select md5(string_agg(sealed, ',' order by patient_id)) as sum from patient_identity`)
    )[0];

  it('covers every column that holds sealed texts', async () => {
    const columns = await root.rows(
      `select table_name, column_name from information_schema.columns
       where table_schema = 'public' and column_name like '%sealed%' order by 1, 2`,
    );
    expect(columns.map((row) => `${row['table_name']}.${row['column_name']}`)).toEqual(
      sealedColumns.map(({ table, column }) => `${table}.${column}`).sort(),
    );
  });

  it('is refused with a wrong old key, or none, and nothing is changed', async () => {
    const before = await digest();
    for (const wrong of [newKey(), undefined]) {
      const { code, told } = await rotate(wrong);
      expect(code).toBe(1);
      expect(told).toMatch(/opens neither with IDENTITY_KEY nor with IDENTITY_KEY_PREVIOUS/);
      expect(told).not.toContain('Nobody');
    }
    expect(await digest()).toEqual(before);
  });

  it('goes on where a kill stopped it, opens all by itself in the end, and is on record', async () => {
    // The last identity is held, so that there is something left whenever the kill strikes.
    const holder = new pg.Client({ connectionString: house.db.superuserUrl });
    await holder.connect();
    await holder.query('begin');
    await holder.query(
      `select from patient_identity where (clinic_id, patient_id) =
       (select i.clinic_id, i.patient_id from patient_identity i join clinic c on c.id = i.clinic_id
        order by c.code desc, i.patient_id desc limit 1) for update`,
    );
    expect((await rotate(oldKey, true)).code).toBeNull();
    await holder.end();
    const half = await sealedWith(new SealedBox(key));
    expect(half).toBeGreaterThan(0);
    expect(half).toBeLessThan(people);
    // Meanwhile both keys open everything, as a process with both settings does.
    const both = new SealedBox(key, oldKey);
    for (const row of await root.rows('select patient_id, sealed from patient_identity'))
      both.open(row['sealed'], identityPurpose(row['patient_id']));
    const { code, told } = await rotate(oldKey);
    expect(told).toMatch(/opened with it alone \d+ patient_identity, 1 person, \d+ maker/);
    expect(code).toBe(0);
    expect(await sealedWith(new SealedBox(key))).toBe(people);
    const alone = new SealedBox(key);
    for (const row of await root.rows('select patient_id, sealed from patient_identity'))
      expect(alone.open(row['sealed'], identityPurpose(row['patient_id']))).toMatch(/Nobody/);
    expect(() => new SealedBox(oldKey).open(alone.seal('x', 'p'), 'p')).toThrow(/key that is not set/);
    const [counted] = await root.rows(
      `select sum((facts->>'identities')::int) as count from audit_entry where action = 'key.rotate'`,
    );
    expect(Number(counted!['count'])).toBe(people);
    expect(await root.rows(`select from audit_entry where action = 'key.rotated'`)).toHaveLength(
      house.network.clinics.length,
    );
    const client = {
      query: async (sql: string, values?: unknown[]) => ({ rows: await root.rows(sql, values) }),
    };
    for (const { faults } of await verifyChains(client as never)) expect(faults).toEqual([]);
  });

  it('has nothing to do a second time, and needs the old key no more', async () => {
    const before = await digest();
    expect((await rotate(undefined)).code).toBe(0);
    expect(await digest()).toEqual(before);
    expect(await root.rows(`select from audit_entry where action = 'key.rotated'`)).toHaveLength(
      house.network.clinics.length,
    );
  });

  it('opens what the first form of the box sealed', () => {
    // Sealed by the first version of the box, whose texts did not name their key.
    const v2 = new SealedBox(oldKey).seal('kept', 'p').split('.');
    const v1 = ['v1', ...v2.slice(2)].join('.');
    expect(new SealedBox(oldKey).open(v1, 'p')).toBe('kept');
    expect(new SealedBox(key, oldKey).open(v1, 'p')).toBe('kept');
    expect(() => new SealedBox(key).open(v1, 'p')).toThrow();
    expect(() => new SealedBox(oldKey).open(v1, 'q')).toThrow();
  });
});
