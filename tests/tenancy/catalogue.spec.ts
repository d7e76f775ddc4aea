import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { connectionAs } from '../../apps/api/dist/platform/database.js';
import { openHouse, type House } from '../support/house.js';
import { sceneAt } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

/** The tables that hold no clinic's data; every other one must keep clinics apart by its own policy. */
const ofTheNetwork = [
  'clinic',
  'clinic_member',
  'design',
  'design_version',
  'invitation',
  'maker',
  'model_proposal',
  'network_setting',
  'person',
  'recovery_code',
  'session',
  'sign_in_attempt',
];
/** What two clinics share: seen by both ends, and described by a policy of its own. */
const betweenClinics = ['lens_transfer'];
/** The record of the migrations is the owner's alone. */
const ofTheOwner = ['_prisma_migrations'];

describe('the database keeps clinics apart by itself', () => {
  let house: House;
  let root: Superuser;
  let app: pg.Client;
  let tables: string[];
  let clinics: { id: string }[];

  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    for (const clinic of ['EST', 'NOR', 'HAR'] as const) await sceneAt(house, 'queued', { clinic });
    app = new pg.Client({ connectionString: connectionAs('lensferry_app', house.db.databaseUrl) });
    await app.connect();
    tables = (
      await root.rows(`select tablename as name from pg_tables where schemaname = 'public' order by 1`)
    ).map(({ name }) => name as string);
    clinics = await root.rows('select id from clinic');
  });
  afterAll(async () => {
    await app?.end();
    await root?.close();
    await house?.close();
  });

  const ofClinics = () =>
    tables.filter((name) => ![...ofTheNetwork, ...betweenClinics, ...ofTheOwner].includes(name));
  /** Runs statements as the application with a scope, and takes them back. */
  const scoped = async <T>(scope: readonly string[] | null, work: () => Promise<T>): Promise<T> => {
    await app.query('begin');
    try {
      if (scope !== null)
        await app.query(`select set_config('app.clinic_ids', $1, true)`, [`{${scope.join(',')}}`]);
      return await work();
    } finally {
      await app.query('rollback');
    }
  };
  const refusal = (text: string): Promise<string> =>
    app.query(text).then(
      ({ rowCount }) => `${rowCount} rows`,
      ({ message }: Error) => message,
    );

  it('has row security, forced, and a policy on every table', async () => {
    const bare = await root.rows(
      `select c.relname as name, c.relrowsecurity, c.relforcerowsecurity,
              (select count(*)::int from pg_policy p where p.polrelid = c.oid) as policies
       from pg_class c join pg_namespace n on n.oid = c.relnamespace
       where n.nspname = 'public' and c.relkind in ('r', 'p') and c.relname <> all ($1)
         and not (c.relrowsecurity and c.relforcerowsecurity
                  and exists (select from pg_policy p where p.polrelid = c.oid))`,
      [ofTheOwner],
    );
    expect(bare).toEqual([]);
    expect(tables.length).toBeGreaterThan(25);
    const views = await root.rows(
      `select relname from pg_class c join pg_namespace n on n.oid = c.relnamespace
       where n.nspname = 'public' and c.relkind in ('v', 'm', 'f')`,
    );
    expect(views).toEqual([]);
  });

  it('keeps every clinic’s table by clinic, in what may be read and in what may be written', async () => {
    const policies = await root.rows(
      `select tablename, policyname, permissive, roles::text[] as roles, cmd, qual, with_check from pg_policies
       where schemaname = 'public' and 'lensferry_app' = any (roles) or 'public' = any (roles)`,
    );
    for (const table of ofClinics()) {
      const own = policies.filter(({ tablename }) => tablename === table);
      expect(own, table).toHaveLength(1);
      for (const side of [own[0]!['qual'], own[0]!['with_check']])
        expect(side, table).toMatch(/^\(clinic_id = ANY \(.*app_clinic_ids\(\)/);
      expect(own[0]!['cmd'], table).toBe('ALL');
      const columns = await root.rows(
        `select is_nullable from information_schema.columns where table_name = $1 and column_name = 'clinic_id'`,
        [table],
      );
      expect(columns, table).toEqual([{ is_nullable: 'NO' }]);
    }
  });

  it('refers between clinics’ tables by clinic and identifier together, never by identifier alone', async () => {
    const loose = await root.rows(
      `select conrelid::regclass::text as "from", confrelid::regclass::text as "to" from pg_constraint
       where contype = 'f' and confrelid::regclass::text = any ($1)
         and not exists (select from unnest(conkey) k join pg_attribute a on a.attrelid = conrelid and a.attnum = k
                         where a.attname in ('clinic_id', 'from_clinic_id', 'to_clinic_id'))`,
      [ofClinics()],
    );
    expect(loose).toEqual([]);
  });

  it('runs the application and the relay as roles that own nothing and bypass nothing', async () => {
    const roles = await root.rows(
      `select rolname, rolsuper, rolbypassrls, rolcanlogin, rolcreaterole, rolcreatedb from pg_roles
       where rolname in ('lensferry_app', 'lensferry_relay', 'lensferry') order by 1`,
    );
    expect(roles.map(({ rolname }) => rolname)).toEqual(['lensferry', 'lensferry_app', 'lensferry_relay']);
    for (const role of roles) expect(role).toMatchObject({ rolsuper: false, rolbypassrls: false });
    for (const role of roles.slice(1))
      expect(role).toMatchObject({ rolcanlogin: false, rolcreaterole: false, rolcreatedb: false });
    const owned = await root.rows(
      `select tablename from pg_tables where tableowner in ('lensferry_app', 'lensferry_relay')`,
    );
    expect(owned).toEqual([]);
    expect((await app.query('select current_user')).rows).toEqual([{ current_user: 'lensferry_app' }]);
    const definers = await root.rows(
      `select proname from pg_proc p join pg_namespace n on n.oid = p.pronamespace
       where n.nspname = 'public' and prosecdef order by 1`,
    );
    expect(definers.map(({ proname }) => proname)).toEqual([
      'clinic_of_order',
      'clinic_of_return',
      'pooled_sums',
      'serial_known',
    ]);
  });

  it('shows nothing without a scope, and with one only its own clinic', async () => {
    const counts = await root.counts();
    const held = ['patient', 'eye_case', 'measurement', 'plan', 'lens_order', 'signature', 'audit_entry'];
    for (const table of held) expect(counts[table], table).toBeGreaterThan(2);
    for (const table of ofClinics()) {
      const seen = (scope: string[] | null) =>
        scoped(scope, async () => (await app.query(`select clinic_id from "${table}"`)).rows);
      expect(await seen(null), table).toEqual([]);
      expect(await seen([]), table).toEqual([]);
      let sum = 0;
      for (const { id } of clinics) {
        const rows = await seen([id]);
        expect(new Set(rows.map(({ clinic_id }) => clinic_id)), table).toEqual(
          new Set(rows.length ? [id] : []),
        );
        sum += rows.length;
      }
      expect(sum, table).toBe(counts[table]);
    }
  });

  it('lets nobody write into another clinic, move a row there, or touch its rows', async () => {
    const [mine, other] = clinics as [{ id: string }, { id: string }];
    for (const table of ofClinics()) {
      const moved = await scoped([mine.id], () => refusal(`update "${table}" set clinic_id = '${other.id}'`));
      expect(moved, table).toMatch(/row-level security|permission denied|^0 rows$/);
      const reached = await scoped([mine.id], () =>
        refusal(`update "${table}" set clinic_id = clinic_id where clinic_id = '${other.id}'`),
      );
      expect(reached, table).toMatch(/^0 rows$|permission denied/);
    }
    const written = await scoped([mine.id], () =>
      refusal(`insert into patient values ('${other.id}', gen_random_uuid(), 'Smuggled', 1990)`),
    );
    expect(written).toMatch(/row-level security/);
  });

  it('only ever adds to the record, and deletes nothing but sessions, sign-in attempts and places at a clinic', async () => {
    const scope = clinics.map(({ id }) => id);
    for (const table of ['audit_entry', 'maker_message', 'delivery', 'measurement', 'plan'])
      expect(
        await scoped(scope, () => refusal(`update "${table}" set clinic_id = clinic_id`)),
        table,
      ).toMatch(/permission denied/);
    for (const table of tables) {
      const deleted = await scoped(scope, () => refusal(`delete from "${table}"`));
      if (['session', 'sign_in_attempt', 'clinic_member'].includes(table)) expect(deleted).toMatch(/rows$/);
      else expect(deleted, table).toMatch(/permission denied/);
      expect(await scoped(scope, () => refusal(`truncate "${table}"`)), table).toMatch(/permission denied/);
    }
  });

  it('shows the relay identifiers of the outbox and nothing else', async () => {
    const relay = new pg.Client({ connectionString: connectionAs('lensferry_relay', house.db.databaseUrl) });
    await relay.connect();
    try {
      const events = await relay.query('select payload from outbox_event');
      expect(events.rows.length).toBe(3);
      for (const { payload } of events.rows) expect(Object.keys(payload)).toEqual(['orderId']);
      for (const table of tables.filter((name) => name !== 'outbox_event'))
        await expect(relay.query(`select 1 from "${table}"`), table).rejects.toThrow(/permission denied/);
    } finally {
      await relay.end();
    }
  });

  it('tells a maker the clinic of its own number only, and no row', async () => {
    const [order] = await root.rows('select number, maker_id, clinic_id from lens_order limit 1');
    const { number, maker_id: makerId, clinic_id: clinicId } = order!;
    const asked = await scoped([], async () => [
      (await app.query('select clinic_of_order($1, $2) as clinic', [number, makerId])).rows,
      (await app.query('select clinic_of_order($1, gen_random_uuid()) as clinic', [number])).rows,
      (await app.query('select * from lens_order')).rows,
    ]);
    expect(asked).toEqual([[{ clinic: clinicId }], [{ clinic: null }], []]);
  });

  it('shows the owner no order, return or lens but the one that a lookup names', async () => {
    const rows = await root.rows(
      `select tablename, qual from pg_policies where policyname in ('number_lookup', 'serial_lookup')`,
    );
    expect(rows.map(({ tablename }) => tablename).sort()).toEqual(['lens_order', 'lens_return', 'lens_unit']);
    for (const { qual } of rows) expect(qual).toMatch(/NULLIF\(current_setting\('app\.\w+_sought'/);
    const owner = new pg.Client({ connectionString: house.db.databaseUrl });
    await owner.connect();
    try {
      await sceneAt(house, 'accepted', { clinic: 'NOR' });
      const [lens] = await root.rows<{ serial: string }>('select serial from lens_unit limit 1');
      const serial = lens!.serial;
      for (const table of ['lens_order', 'lens_return', 'lens_unit'])
        expect((await owner.query(`select from ${table}`)).rows, table).toEqual([]);
      const known = `select serial_known($1, null) as known`;
      expect((await owner.query(known, [serial])).rows).toEqual([{ known: true }]);
      expect((await owner.query(known, ['no such serial'])).rows).toEqual([{ known: false }]);
      expect((await owner.query('select from lens_unit')).rows).toEqual([]);
    } finally {
      await owner.end();
    }
  });
});
