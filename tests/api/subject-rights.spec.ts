import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { erasureMeaning } from '../../apps/api/dist/cases/erase-identity.js';
import { verifyChains } from '../../apps/api/dist/platform/verify-chain.js';
import { openHouse, password, type House, type Person } from '../support/house.js';
import { readPdf } from '../support/read-pdf.js';
import { implant, sceneAt, type Scene } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

const name = 'Zebulon Quastermann';
const why = 'Asked for in writing; the letter is in the safe.';

describe('what a patient may ask for', () => {
  let house: House;
  let root: Superuser;
  let scene: Scene;
  let una: Person;
  let ada: Person;
  const path = () => `/api/cases/${scene.caseId}`;
  const actions = () =>
    root
      .rows('select action from audit_entry where case_id = $1 order by seq', [scene.caseId])
      .then((rows) => rows.map(({ action }) => action as string));

  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    scene = await sceneAt(house, 'accepted', { clinic: 'EST', patient: name, codeName: 'Juniper 7' });
    await implant(scene);
    [una, ada] = [await house.signIn('una'), await house.signIn('ada')];
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  it('hands over everything that is held, for those who may, and records it', async () => {
    const { status, body } = await una.get<{
      identity: { name: string };
      codeName: string;
      looks: unknown[];
      cases: {
        measurements: unknown[];
        history: unknown[];
        implantations: { serial: string }[];
        lenses: { lot: string }[];
        orders: { number: string }[];
      }[];
    }>(`${path()}/subject-export`);
    expect(status).toBe(200);
    expect(body.identity.name).toBe(name);
    const [held] = body.cases;
    const [counted] = await root.rows('select count(*)::int as count from measurement where case_id = $1', [
      scene.caseId,
    ]);
    expect(held!.measurements).toHaveLength(counted!['count']);
    expect(held!.implantations).toHaveLength(1);
    expect(held!.orders).toHaveLength(1);
    expect(await actions()).toContain('case.export-subject');
    const paper = await house.app.inject({
      url: `${path()}/subject-export.pdf`,
      headers: { cookie: una.cookie },
    });
    const text = JSON.stringify(await readPdf(paper.rawPayload));
    for (const part of [name, 'Juniper 7', held!.implantations[0]!.serial, held!.orders[0]!.number])
      expect(text).toContain(part);
  });

  it('is refused to every other role, and to other clinics', async () => {
    const before = await actions();
    for (const who of ['ada', 'oona']) {
      const person = await house.signIn(who);
      expect((await person.get(`${path()}/subject-export`)).status).toBe(403);
      const { body } = await person.get<{ actions: string[] }>(path());
      expect(body.actions).not.toContain('export-subject');
    }
    for (const who of ['una', 'ilse', 'oona']) {
      const person = await house.signIn(who);
      expect((await person.post(`${path()}/erase-identity`, { password, why })).status).toBe(403);
      const { body } = await person.get<{ actions: string[] }>(path());
      expect(body.actions).not.toContain('erase-identity');
    }
    expect(await actions()).toEqual(before);
  });

  it('erases nothing without a reason or with a wrong password', async () => {
    const wrong = await ada.post<{ code: string }>(`${path()}/erase-identity`, { password: 'not it', why });
    expect([wrong.status, wrong.body.code]).toEqual([400, 'person.password']);
    expect((await ada.post(`${path()}/erase-identity`, { password, why: ' ' })).status).toBe(400);
    expect((await una.get<{ name: string }>(`${path()}/identity`)).body.name).toBe(name);
  });

  it('erases who the patient is and keeps the trace of the device', async () => {
    const trace = () =>
      root.rows(
        `select i.performed_on, i.axis_deg, u.serial, u.lot, u.label_text, o.number, p.code_name, p.birth_year
         from implantation i join lens_unit u on u.id = i.lens_id join lens_order o on o.id = u.order_id
         join eye_case c on c.id = i.case_id join patient p on p.id = c.patient_id where c.id = $1`,
        [scene.caseId],
      );
    const [sealed] = await root.rows(
      `select sealed from patient_identity i join eye_case c using (clinic_id, patient_id) where c.id = $1`,
      [scene.caseId],
    );
    const before = await trace();
    expect(before).toHaveLength(1);
    expect((await ada.get<{ actions: string[] }>(path())).body.actions).toContain('erase-identity');
    const erased = await ada.post<{ hasIdentity: boolean; identityErasedAt: string; actions: string[] }>(
      `${path()}/erase-identity`,
      { password, why },
    );
    expect(erased.status).toBe(200);
    expect(erased.body).toMatchObject({ hasIdentity: false, identityErasedAt: expect.any(String) });
    expect(erased.body.actions).not.toContain('erase-identity');
    expect(await trace()).toEqual(before);
    await nothingLeft(String(sealed!['sealed']));
  });

  /** No table has the name or the sealed text in any of its rows. */
  const nothingLeft = async (sealed: string): Promise<void> => {
    for (const table of Object.keys(await root.counts()))
      for (const sought of [name, 'Quastermann', sealed])
        expect(
          await root.rows(`select from "${table}" t where position($1 in t::text) > 0`, [sought]),
          `${table} still has it`,
        ).toEqual([]);
  };

  it('records who, when and why, with the meaning, and without the identity', async () => {
    const rows = await root.rows(
      `select actor_name, actor_kind, why, facts, at from audit_entry where action = 'case.erase-identity' and case_id = $1`,
      [scene.caseId],
    );
    expect(rows).toHaveLength(1);
    expect(rows[0]).toMatchObject({ actor_kind: 'administrator', why, facts: { meaning: erasureMeaning } });
    const client = {
      query: async (sql: string, values?: unknown[]) => ({ rows: await root.rows(sql, values) }),
    };
    for (const { faults } of await verifyChains(client as never)) expect(faults).toEqual([]);
  });

  it('says so afterwards wherever the identity was', async () => {
    const look = await una.get<{ code: string }>(`${path()}/identity`);
    expect([look.status, look.body.code]).toEqual([404, 'patient.erased']);
    const again = await ada.post<{ code: string }>(`${path()}/erase-identity`, { password, why });
    expect([again.status, again.body.code]).toEqual([404, 'patient.erased']);
    const held = await una.get<{ identity: null; identityErasedAt: string }>(`${path()}/subject-export`);
    expect(held.body).toMatchObject({ identity: null, identityErasedAt: expect.any(String) });
    expect(JSON.stringify((await una.get('/api/cases?q=Quastermann')).body)).not.toContain('Quastermann');
    const card = await house.app.inject({
      url: `${path()}/implant-card.pdf`,
      headers: { cookie: una.cookie },
    });
    expect(card.statusCode).toBe(200);
    expect(JSON.stringify(await readPdf(card.rawPayload))).not.toContain('Quastermann');
  });
});
