import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openCase } from '../../apps/api/dist/cases/open-case.js';
import { makeAsk, type Method, type Question, type Told } from '../support/ask.js';
import { goodCalls, type GoodCall } from '../support/good-bodies.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { operationsOf, readOpenApi, type ApiDocument } from '../support/open-api.js';
import { implant, playTo, sceneAt } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

const wanted = process.env['FULL'] ? 10_000 : 2000;

/** People of one clinic only, a role each, and the network-wide ones; the foreign clinic is one they don't belong to. */
const strangers = { una: 'HAR', oona: 'HAR', jonas: 'HAR', piet: 'HAR', tomas: 'HAR', ilse: 'HAR' } as const;
/** Administrators and auditors of the demo see every clinic, so they are asked after a clinic of another network. */
const everywhere = ['ada', 'ivo', 'mara'] as const;

describe('a foreign clinic’s identifiers', () => {
  let house: House;
  let root: Superuser;
  let api: ApiDocument;
  const people = new Map<string, Person>();
  /** What no answer may hold: identifiers, codes, code names, numbers, serials and names of the foreign clinics. */
  let secrets: string[];
  let foreign: Foreign[];
  let asked = 0;
  /** The last entry of each clinic's record before anybody asks. */
  const heads: Record<string, number> = {};
  const statuses = new Map<number, number>();

  interface Foreign {
    readonly clinicId: string;
    readonly caseId: string;
    readonly measurementId: string;
    readonly orderId: string;
    readonly orderNumber: string;
    readonly lensId: string;
    readonly returnId: string;
    readonly parcelId: string;
    readonly transferId: string;
    readonly countId: string;
    readonly surgeonId: string;
    readonly designVersionId: string;
    readonly makerId: string;
    readonly words: readonly string[];
  }

  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    api = await readOpenApi(house);
    await addOuterClinic();
    for (const clinic of ['HAR', 'OUT'] as const) {
      const wish = { clinic: clinic as 'HAR', patient: `Hidden ${clinic}` };
      await sceneAt(house, 'submitted', { ...wish, codeName: `Quartz ${clinic} 1` });
      await sceneAt(house, 'sent', { ...wish, codeName: `Quartz ${clinic} 2` });
      await sceneAt(house, 'quarantined', { ...wish, codeName: `Quartz ${clinic} 3` });
      const scene = await sceneAt(house, 'shipped', { ...wish, codeName: `Quartz ${clinic} 4` });
      await implant(await playTo(scene, 'accepted'));
      await sceneAt(house, 'rejected', { ...wish, codeName: `Quartz ${clinic} 5` });
    }
    // Everybody has something of their own too, so that lists are not empty by chance.
    for (const clinic of ['EST', 'NOR'] as const) await sceneAt(house, 'shipped', { clinic });
    foreign = await readForeign();
    secrets = await readSecrets();
    for (const name of [...Object.keys(strangers), ...everywhere]) people.set(name, await house.signIn(name));
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  /** A clinic that nobody of the demo belongs to but its own staff. */
  async function addOuterClinic(): Promise<void> {
    const id = randomUUID();
    await root.rows(`insert into clinic values ($1, 'OUT', 'Outer Quay', 'Europe/Oslo')`, [id]);
    const staff: Record<string, object> = {};
    for (const role of ['surgeon', 'coordinator', 'inventory', 'administrator', 'auditor'] as const) {
      const personId = randomUUID();
      const name = `Stranger ${role}`;
      await root.rows(
        `insert into person select $1, $2, $3, $4::"Role", password_hash from person where email = 'una@lensferry.example'`,
        [personId, `${role}@outer.example`, name, role],
      );
      await root.rows('insert into clinic_member values ($1, $2)', [id, personId]);
      staff[role] = { kind: role, personId, name, clinicIds: [id] };
    }
    (house.network.clinics as unknown as object[]).push({ id, code: 'OUT', staff });
  }

  async function readForeign(): Promise<Foreign[]> {
    const all: Foreign[] = [];
    for (const code of ['HAR', 'OUT']) {
      const clinic = house.network.clinics.find((each) => (each.code as string) === code)!;
      const cases = await root.rows('select id from eye_case where clinic_id = $1', [clinic.id]);
      for (const { id } of cases) {
        const one = async (sql: string) => (await root.rows(sql, [id]))[0];
        const order = await one('select id, number from lens_order where case_id = $1');
        const lens = await one(
          'select l.id, l.serial from lens_unit l join lens_order o on o.id = l.order_id where o.case_id = $1',
        );
        const back = await one(
          `select r.id from lens_return r join lens_unit l on l.id = r.lens_id join lens_order o on o.id = l.order_id
           where o.case_id = $1`,
        );
        const measurement = await one(`select id from measurement where case_id = $1 and kind = 'chamber'`);
        const name = await one(
          'select p.code_name, c.code from eye_case c join patient p on p.id = c.patient_id where c.id = $1',
        );
        const maker = (await root.rows('select id from maker limit 1'))[0];
        const design = (await root.rows('select id from design_version limit 1'))[0];
        all.push({
          clinicId: clinic.id,
          caseId: id,
          measurementId: measurement!['id'],
          orderId: order!['id'],
          orderNumber: order!['number'],
          lensId: lens?.['id'] ?? randomUUID(),
          returnId: back?.['id'] ?? randomUUID(),
          parcelId: await foreignParcel(clinic.id),
          countId: await foreignCount(clinic.id),
          transferId: lens === undefined ? randomUUID() : await foreignTransfer(clinic.id, lens['id']),
          makerId: maker!['id'],
          surgeonId: clinic.staff.surgeon.personId!,
          designVersionId: design!['id'],
          words: [name!['code_name'], name!['code'], order!['number'], lens?.['serial'] ?? name!['code']],
        });
      }
    }
    return all;
  }

  /** A parcel that nobody expected, kept at a clinic. */
  async function foreignParcel(clinicId: string): Promise<string> {
    const [row] = await root.rows<{ id: string }>(
      `insert into unexpected_parcel (clinic_id, id, found, label_text, location, note, state, state_since, received_at, received_by)
       select $1, gen_random_uuid(), '{"serial":"Hidden"}', '', 'apart', 'Hidden', 'kept', now(), now(), id from person limit 1
       returning id`,
      [clinicId],
    );
    return row!.id;
  }

  async function foreignCount(clinicId: string): Promise<string> {
    const [row] = await root.rows<{ id: string }>(
      `insert into stock_count (clinic_id, id, location, state, opened_at, opened_by)
       values ($1, gen_random_uuid(), 'Hidden ' || gen_random_uuid(), 'open', now(), 'Hidden') returning id`,
      [clinicId],
    );
    return row!.id;
  }

  /** A lens that a foreign clinic offers to another one that nobody here belongs to. */
  async function foreignTransfer(clinicId: string, lensId: string): Promise<string> {
    const [row] = await root.rows<{ id: string }>(
      `insert into lens_transfer (from_clinic_id, id, lens_id, to_clinic_id, maker_id, serial, expires_on, design_code, made_under, lens, state, state_since, offered_at)
       select u.clinic_id, gen_random_uuid(), u.id, gen_random_uuid(), u.maker_id, u.serial, u.expires_on, 'HIDDEN', 'Hidden', u.lens, 'offered', now(), now()
       from lens_unit u where u.clinic_id = $1 and u.id = $2
       returning id`,
      [clinicId, lensId],
    );
    return row!.id;
  }

  async function readSecrets(): Promise<string[]> {
    const rows = await root.rows(`
      with f as (select id from clinic where code in ('HAR', 'OUT'))
      select unnest(array[code_name, id::text]) as word from patient where clinic_id in (select id from f)
      union select unnest(array[code, id::text]) from eye_case where clinic_id in (select id from f)
      union select unnest(array[number, id::text, specification_hash]) from lens_order where clinic_id in (select id from f)
      union select unnest(array[serial, id::text]) from lens_unit where clinic_id in (select id from f)
      union select unnest(array[number, id::text]) from lens_return where clinic_id in (select id from f)
      union select id::text from unexpected_parcel where clinic_id in (select id from f)
      union select id::text from measurement where clinic_id in (select id from f)
      union select id::text from plan where clinic_id in (select id from f)
      union select id::text from signature where clinic_id in (select id from f)
      union select id::text from implantation where clinic_id in (select id from f)
      union select hash from audit_entry where clinic_id in (select id from f)`);
    return [...rows.map(({ word }) => word as string), 'Quartz', 'Hidden', 'Stranger', 'Outer Quay'];
  }

  /** Everything that a route can be asked of somebody else's thing; bodies name foreign things as well. */
  function questionsOf(
    operation: string,
    thing: Foreign,
    who: Person,
  ): { url: string; question: Question }[] {
    const good: GoodCall | undefined = goodCalls({ ...thing, una: who, ilse: who, oona: who, ada: who })[
      operation
    ];
    const [, path = ''] = operation.split(' ');
    const byPath: Record<string, string> = {
      cases: thing.caseId,
      orders: thing.orderId,
      lenses: thing.lensId,
      returns: thing.returnId,
      parcels: thing.parcelId,
      transfers: thing.transferId,
      'stock-counts': thing.countId,
    };
    const ids = { id: byPath[path.split('/')[2] ?? ''] ?? thing.caseId, measurementId: thing.measurementId };
    const url = path.replaceAll(/\{(\w+)\}/g, (_, name) => ids[name as 'id'] ?? 'QUILLON');
    const question = { as: who, ...(good === undefined ? {} : { body: good.body }) };
    if (good !== undefined)
      return [
        { url, question },
        { url, question: { ...question, body: { ...good.body, version: 1 } } },
      ].slice(0, 'version' in good.body ? 2 : 1);
    const { parameters = [] } = api.document.paths[path]!['get'] ?? {};
    const asks = parameters.filter((parameter) => parameter.in === 'query').map(({ name }) => name);
    const queries = [
      ...(asks.includes('clinicId')
        ? [`clinicId=${thing.clinicId}`, `caseId=${thing.caseId}&perPage=200`]
        : []),
      ...(asks.includes('q') ? thing.words.map((word) => `q=${encodeURIComponent(word)}`) : []),
    ];
    const bare = asks.includes('q') && !asks.includes('page') ? [] : [''];
    return [...bare, ...queries].map((query) => ({ url: query === '' ? url : `${url}?${query}`, question }));
  }

  /** Routes on which an identifier of somebody else's can only ever be missing or forbidden. */
  const namesAThing = (operation: string): boolean =>
    /^(GET|POST) \/api\/(cases|orders|lenses|returns|people)\/\{id\}/.test(operation);
  /** Routes that change nothing of anybody's but would end the very session that asks, or never end. */
  const apart = ['DELETE /api/session', 'GET /api/events'];

  /** The clinics of a network know each other by name, and by nothing else: lenses are offered by it. */
  const clinicNames = ['Harbour Row', 'Outer Quay'];

  const check = (operation: string, told: Told, who: string, hidden: readonly string[]): void => {
    asked += 1;
    statuses.set(told.status, (statuses.get(told.status) ?? 0) + 1);
    const label = `${who}: ${told.method} ${told.url} → ${told.status}`;
    expect(told.status, `${label} ${told.text}`).toBeLessThan(500);
    if (namesAThing(operation)) expect([403, 404], `${label} ${told.text}`).toContain(told.status);
    // What the person asked with comes back in no answer either: nothing of it is worth a byte.
    const mayBeTold = operation === 'GET /api/clinics' ? clinicNames : [];
    const leaked = hidden.filter((word) => told.text.includes(word) && !mayBeTold.includes(word));
    expect(leaked, `${label} ${told.text.slice(0, 1000)}`).toEqual([]);
  };

  it('open nothing, on any route, to any role', { timeout: 600_000 }, async () => {
    const ask = makeAsk(house);
    const operations = operationsOf(api.document).filter((operation) => !apart.includes(operation));
    const before = await root.counts();
    for (const { clinic_id: id, seq } of await root.rows('select clinic_id, seq::int from audit_head'))
      heads[id] = seq;
    const { rows: fingerprints } = await fingerprint();
    const outer = foreign.filter(({ words }) => words[0]!.includes('OUT'));
    const outerSecrets = secrets.filter((word) => outerWords(outer).has(word) || /Stranger|Outer/.test(word));
    expect(secrets.length).toBeGreaterThan(100);
    expect(outerSecrets.length).toBeGreaterThan(10);
    for (let round = 0; round === 0 || asked < wanted; round += 1)
      for (const operation of operations) {
        const [method] = operation.split(' ') as [Method];
        // The throttle of wrong passwords would hide what a route answers.
        await root.rows(`delete from sign_in_attempt where email like 'again:%'`);
        const batch: Promise<void>[] = [];
        for (const [name, person] of people) {
          const here = name in strangers;
          const things = here ? foreign : outer;
          const thing = things[round % things.length]!;
          for (const { url, question } of questionsOf(operation, thing, person))
            batch.push(
              ask(method, url, question).then((told) =>
                check(operation, told, name, here ? secrets : outerSecrets),
              ),
            );
        }
        await Promise.all(batch);
      }
    expect(asked).toBeGreaterThanOrEqual(wanted);
    const after = await root.counts();
    expect((await fingerprint()).rows).toEqual(fingerprints);
    // Who belongs to a clinic may leave a trace of a look or an export there; nobody else, and none at the outer one.
    const traces = await root.rows(
      `select c.code, a.action, a.actor_name as by, count(*)::int as n,
              bool_and(exists (select from clinic_member m where m.clinic_id = a.clinic_id and m.person_id = a.actor_id)) as own
       from audit_entry a join clinic c on c.id = a.clinic_id
       where c.code in ('HAR', 'OUT') and a.seq > ($1::jsonb ->> a.clinic_id::text)::bigint group by 1, 2, 3`,
      [JSON.stringify(heads)],
    );
    expect(traces.filter(({ own, code }) => !own || code === 'OUT')).toEqual([]);
    if (traces.length > 0) console.log(`Traces of members in their own clinic: ${JSON.stringify(traces)}`);
    for (const table of [
      'eye_case',
      'lens_order',
      'lens_unit',
      'lens_return',
      'measurement',
      'signature',
      'patient',
    ])
      expect(after[table], table).toBe(before[table]);
    console.log(
      `Tenancy: ${asked} requests on ${operations.length} operations by ${people.size} people with foreign identifiers, ` +
        `by status ${JSON.stringify(Object.fromEntries([...statuses].sort()))}, no byte of ${secrets.length} foreign words`,
    );
  });

  const outerWords = (things: readonly Foreign[]): Set<string> =>
    new Set(
      things.flatMap(({ words, clinicId: _own, surgeonId: _theirs, designVersionId: _shared, ...ids }) => [
        ...words,
        ...Object.values(ids),
      ]),
    );

  /** Every foreign row as it stands, in one hash a table. */
  async function fingerprint(): Promise<{ rows: Record<string, string>[] }> {
    const tables = ['eye_case', 'lens_order', 'lens_unit', 'lens_return', 'signature', 'outbox_event'];
    const parts = tables.map(
      (table) => `(select md5(string_agg(t::text, ',' order by t::text)) from ${table} t
        where clinic_id in (select id from clinic where code in ('HAR', 'OUT'))) as ${table}`,
    );
    const record = `(select md5(string_agg(t::text, ',' order by t::text)) from audit_entry t
      where seq <= ($1::jsonb ->> clinic_id::text)::bigint) as audit_entry`;
    return { rows: await root.rows(`select ${[...parts, record].join(', ')}`, [JSON.stringify(heads)]) };
  }

  it('are there for those whose they are', async () => {
    const ask = makeAsk(house);
    const nikos = await house.signIn('nikos');
    for (const list of ['cases', 'orders', 'lenses', 'returns'])
      expect((await ask('GET', `/api/${list}`, { as: nikos })).text, list).toContain('Quartz HAR');
  });

  it('can’t be told from identifiers that were never given', async () => {
    const ask = makeAsk(house);
    const una = people.get('una')!;
    const [thing] = foreign;
    for (const [list, id] of [
      ['cases', thing!.caseId],
      ['orders', thing!.orderId],
      ['lenses', thing!.lensId],
      ['returns', thing!.returnId],
    ] as const) {
      const theirs = await ask('GET', `/api/${list}/${id}`, { as: una });
      const nobodys = await ask('GET', `/api/${list}/${randomUUID()}`, { as: una });
      expect([theirs.status, theirs.text]).toEqual([nobodys.status, nobodys.text]);
    }
  });

  it('open no case at a clinic that is not one’s own', async () => {
    const ask = makeAsk(house);
    const { clinicId, surgeonId } = foreign[0]!;
    const una = people.get('una')!;
    const told = await ask('POST', '/api/cases', {
      as: una,
      body: { clinicId, codeName: 'Smuggled', birthYear: 1990, eye: 'OD', surgeonId },
    });
    expect(told.status).toBe(404);
    const actor = house.network.clinics.find(({ code }) => code === 'EST')!.staff.coordinator;
    await expect(
      house.database.work(actor, (work) =>
        openCase(work, { clinicId, codeName: 'Smuggled', birthYear: 1990, eye: 'OD', surgeonId } as never),
      ),
    ).rejects.toMatchObject({ code: 'clinic.not-yours' });
    expect(await root.rows(`select 1 from patient where code_name = 'Smuggled'`)).toEqual([]);
  });
});
