import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CaseDetail, Today } from '@lensferry/contracts';
import { openHouse, type House, type Person } from '../support/house.js';
import { exchangeLens, implant, sceneAt, type Scene } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

describe('whether a lens that was taken out is to be reported', () => {
  let house: House;
  let root: Superuser;
  let ilse: Person;
  let una: Person;
  let oona: Person;
  let scene: Scene;
  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    [ilse, una, oona] = await Promise.all([house.signIn('ilse'), house.signIn('una'), house.signIn('oona')]);
    scene = await sceneAt(house, 'accepted');
    await implant(scene);
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  const caseNow = async () => (await ilse.get<CaseDetail>(`/api/cases/${scene.caseId}`)).body;
  const waits = async () =>
    (await una.get<Today>('/api/today')).body.toConsider.some(({ id }) => id === scene.caseId);
  const why = 'It lay as it should; the eye asked for another axis.';
  const consider = (implantationId: string, who = ilse, more: object = {}) =>
    who.post<CaseDetail & { code: string }>(`/api/cases/${scene.caseId}/considered-event`, {
      ...{ implantationId, decision: 'not_to_report', why },
      ...more,
    });

  it('is not asked while the lens lies in the eye', async () => {
    const { implantations, actions } = await caseNow();
    expect(actions).not.toContain('consider');
    expect(await waits()).toBe(false);
    const refused = await consider(implantations[0]!.id);
    expect(refused).toMatchObject({ body: { code: 'event.not-explanted' } });
  });

  it('is asked on the day a lens is taken out until a decision is written down, and nothing is sent', async () => {
    await exchangeLens(scene);
    expect(await waits()).toBe(true);
    const { implantations, actions } = await caseNow();
    expect(actions).toContain('consider');
    const out = implantations.find(({ explantedOn }) => explantedOn !== null)!;
    expect(out.consideration).toBeNull();
    const outbox = await root.rows('select count(*)::int as n from outbox_event');
    expect((await consider(out.id, oona)).status).toBe(403);
    const done = await consider(out.id, ilse, { reference: 'V-2026-17' });
    expect(done.status).toBe(200);
    const kept = done.body.implantations.find(({ id }) => id === out.id)!.consideration;
    expect(kept).toMatchObject({ decision: 'not_to_report', reference: 'V-2026-17', why });
    expect(kept!.decidedBy).toMatch(/Varga/);
    expect(done.body.history.map(({ action }) => action)).toContain('case.consider');
    expect(await waits()).toBe(false);
    expect(await root.rows('select count(*)::int as n from outbox_event')).toEqual(outbox);
  });

  it('is decided once: a second decision changes nothing, whoever comes with it', async () => {
    const before = await caseNow();
    const out = before.implantations.find(({ explantedOn }) => explantedOn !== null)!;
    const again = await consider(out.id, una, { decision: 'reported' });
    expect(again).toMatchObject({ status: 409, body: { code: 'event.considered' } });
    expect((await caseNow()).implantations).toEqual(before.implantations);
  });

  it('is decided once also when two write it down in the same moment', async () => {
    const other = await sceneAt(house, 'accepted');
    await implant(other);
    await exchangeLens(other);
    const path = `/api/cases/${other.caseId}`;
    const out = (await ilse.get<CaseDetail>(path)).body.implantations.find(
      ({ explantedOn }) => explantedOn !== null,
    )!;
    const body = { implantationId: out.id, decision: 'reported', why };
    const answers = await Promise.all(
      Array.from({ length: 6 }, (_, i) => (i % 2 ? ilse : una).post(`${path}/considered-event`, body)),
    );
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
    expect(answers.filter(({ status }) => status === 409)).toHaveLength(5);
  });
});
