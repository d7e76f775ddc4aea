import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CaseDetail, LensSummary, OrderDetail, PlanResult, Today } from '@lensferry/contracts';
import { loadCase } from '../../apps/api/dist/cases/cases.store.js';
import { recordImplantation } from '../../apps/api/dist/cases/record-implantation.js';
import { day } from '../support/eye.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { as, openScene, playTo, type Scene } from '../support/scenes.js';

const target = { sphereD: 0, cylinderD: 0, axisDeg: null };

describe('a smaller lens ordered beside the chosen one', () => {
  let house: House;
  let una: Person;
  let ilse: Person;
  let oona: Person;
  beforeAll(async () => {
    house = await openHouse();
    [una, ilse, oona] = await Promise.all([house.signIn('una'), house.signIn('ilse'), house.signIn('oona')]);
  });
  afterAll(() => house?.close());

  const caseNow = async (scene: Scene) => (await una.get<CaseDetail>(`/api/cases/${scene.caseId}`)).body;
  const orderNow = async (id: string) => (await una.get<OrderDetail>(`/api/orders/${id}`)).body;
  const choiceFor = async (scene: Scene, companion?: number) => {
    const { body } = await una.post<PlanResult>(`/api/cases/${scene.caseId}/plan-preview`, {});
    expect(body.companion).toMatchObject({ fromChance: 0.15 });
    const option = body.options.find(({ makerName }) => makerName === 'Quillon')!;
    const { designVersionId, sphereD, cylinderD, axisDeg } = option;
    return {
      ...{ target, designVersionId, sphereD, cylinderD, axisDeg, lengthMm: 13 },
      ...(companion === undefined ? {} : { companionLengthMm: companion }),
    };
  };
  const plan = async (scene: Scene, companion?: number) => {
    const body = await choiceFor(scene, companion);
    const answer = await una.post<OrderDetail>(`/api/cases/${scene.caseId}/plans`, body);
    if (answer.status < 300) scene.orderId = answer.body.id;
    return answer;
  };
  /** Both orders of a case, each brought to a state by the use cases. */
  const both = async (scene: Scene): Promise<[Scene, Scene]> => {
    await plan(scene, 12.75);
    const { companion } = await orderNow(scene.orderId);
    return [scene, { ...scene, orderId: companion!.id, unit: null, lensId: '' }];
  };

  it('is an order of its own, linked both ways, and the case waits for the first', async () => {
    const scene = await openScene(house);
    expect((await plan(scene, 12.75)).status).toBeLessThan(300);
    const first = await orderNow(scene.orderId);
    expect(first).toMatchObject({ companionOf: null, companion: { lengthMm: 12.75, state: 'draft' } });
    const second = await orderNow(first.companion!.id);
    expect(second.companionOf).toEqual({ id: first.id, number: first.number });
    expect(second.specification).toEqual({ ...first.specification, lengthMm: 12.75 });
    expect(second.specificationHash).not.toBe(first.specificationHash);
    await playTo({ ...scene, orderId: second.id }, 'submitted');
    expect((await caseNow(scene)).waiting.for).toBe('submission');
  });

  it('is refused in a size that is not smaller or not made', async () => {
    const scene = await openScene(house);
    for (const wrong of [13, 13.25, 12.6])
      expect(await plan(scene, wrong)).toMatchObject({
        status: 400,
        body: { code: 'plan.not-makeable', errors: [{ pointer: '/companionLengthMm' }] },
      });
    expect((await caseNow(scene)).orders).toEqual([]);
  });

  it('follows the plan until its maker has it: another size voids its signature, none gives it up', async () => {
    const scene = await openScene(house);
    const [, second] = await both(scene);
    await playTo(second, 'approved');
    await plan(scene, 12.5);
    const amended = await orderNow(second.orderId);
    expect(amended).toMatchObject({ state: 'draft', specification: { lengthMm: 12.5 } });
    expect(amended.signatures.every(({ voidedAt }) => voidedAt !== null)).toBe(true);
    await plan(scene);
    expect((await orderNow(second.orderId)).state).toBe('cancelled');
    expect((await orderNow(scene.orderId)).companion).toBeNull();
    const [, third] = await both(scene);
    await playTo(third, 'sent');
    expect(await plan(scene, 12.5)).toMatchObject({ body: { code: 'plan.companion-out' } });
    // The same size again is no change.
    expect((await plan(scene, 12.75)).status).toBeLessThan(300);
    expect(
      (
        await una.post(`/api/cases/${scene.caseId}/withdraw`, {
          version: (await caseNow(scene)).version,
          why: 'The test asks for it.',
        })
      ).body,
    ).toMatchObject({ code: 'case.order-open' });
  });

  it('frees the other lens when one goes into the eye, for its way back within the window', async () => {
    const scene = await openScene(house);
    const [first, second] = await both(scene);
    await playTo(first, 'accepted');
    await playTo(second, 'accepted');
    const { lenses } = await caseNow(scene);
    expect(lenses.map(({ state }) => state)).toEqual(['reserved', 'reserved']);
    await as(scene.cast, scene.clinic, 'surgeon', async (work) => {
      const { version } = await loadCase(work, scene.caseId);
      await recordImplantation(work, scene.caseId, {
        ...{ version, lensId: second.lensId, serial: second.unit!.serial, performedOn: day(0), axisDeg: 30 },
      });
    });
    const after = await caseNow(scene);
    expect(after.stage).toBe('implanted');
    const spare = after.lenses.find(({ id }) => id === first.lensId)!;
    expect(spare.state).toBe('in_stock');
    const { body: today } = await oona.get<Today>('/api/today');
    const row = today.toReturn.find(({ id }) => id === first.lensId) as LensSummary;
    expect(row.returnBy).toBe(day(-(await windowOf())));
    const back = await oona.post(`/api/lenses/${first.lensId}/return`, {
      version: spare.version,
      reason: 'The smaller one beside it went in.',
    });
    expect(back.status).toBeLessThan(300);
    const later = (await oona.get<Today>('/api/today')).body;
    expect(later.toReturn.map(({ id }) => id)).not.toContain(first.lensId);
    expect(later.returns.map(({ lens }) => lens.id)).toContain(first.lensId);
    expect((await ilse.get<OrderDetail>(`/api/orders/${first.orderId}`)).body.state).toBe('accepted');
  });

  it('leaves on the shelf, free to go back, what comes after the operation', async () => {
    const scene = await openScene(house);
    const [first, second] = await both(scene);
    await playTo(second, 'shipped');
    await playTo(first, 'accepted');
    await as(scene.cast, scene.clinic, 'surgeon', async (work) => {
      const { version } = await loadCase(work, scene.caseId);
      await recordImplantation(work, scene.caseId, {
        ...{ version, lensId: first.lensId, serial: first.unit!.serial, performedOn: day(0), axisDeg: 30 },
      });
    });
    await playTo(second, 'accepted');
    const after = await caseNow(scene);
    expect(after.stage).toBe('implanted');
    expect(after.lenses.find(({ id }) => id === second.lensId)!.state).toBe('in_stock');
    const { body: today } = await oona.get<Today>('/api/today');
    const row = today.toReturn.find(({ id }) => id === second.lensId)!;
    const back = await oona.post(`/api/lenses/${row.id}/return`, {
      ...{ version: row.version, reason: 'It came after the operation.' },
    });
    expect(back.status).toBeLessThan(300);
  });

  const windowOf = async (): Promise<number> => {
    const { body } = await una.get<{ items: { code: string; returnWindowDays: number }[] }>('/api/makers');
    return body.items.find(({ code }) => code === 'QUILLON')!.returnWindowDays;
  };
});
