import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { NetworkLimits, PlanResult } from '@lensferry/contracts';
import { openHouse, password, type House, type Person } from '../support/house.js';
import { openScene } from '../support/scenes.js';

describe('the limits of the network', () => {
  let house: House;
  let surgeon: Person;
  let administrator: Person;
  let coordinator: Person;
  beforeAll(async () => {
    house = await openHouse();
    [surgeon, administrator, coordinator] = await Promise.all([
      house.signIn('ilse'),
      house.signIn('ada'),
      house.signIn('una'),
    ]);
  });
  afterAll(() => house?.close());

  const change = { key: 'kmaxCautionD', was: 60, value: 46, why: 'Agreed at the meeting.', password };
  const set = (person: Person, body: object) =>
    person.post<NetworkLimits & { code?: string; errors?: { pointer: string }[] }>('/api/limits', body);
  const limit = async (key: string) =>
    (await coordinator.get<NetworkLimits>('/api/limits')).body.items.find((one) => one.key === key)!;

  it('are set by a surgeon’s signature and by nobody else, from the value that was seen', async () => {
    expect(await limit('kmaxCautionD')).toEqual({ key: 'kmaxCautionD', value: 60, changed: null });
    expect((await set(coordinator, change)).status).toBe(403);
    expect((await set(administrator, change)).status).toBe(403);
    expect((await set(surgeon, { ...change, password: 'not the one' })).status).toBeGreaterThanOrEqual(400);
    expect((await limit('kmaxCautionD')).value).toBe(60);
    expect((await set(surgeon, change)).status).toBe(200);
    expect(await limit('kmaxCautionD')).toMatchObject({
      value: 46,
      changed: { before: 60, why: change.why, by: expect.any(String) },
    });
    expect(await set(surgeon, { ...change, value: 50 })).toMatchObject({
      status: 409,
      body: { code: 'limit.changed-meanwhile' },
    });
  });

  it('are in what a plan finds from then on, and in the record', async () => {
    const scene = await openScene(house);
    const path = `/api/cases/${scene.caseId}/plan-preview`;
    const finding = async () =>
      (await coordinator.post<PlanResult>(path, {})).body.findings.find(
        ({ facts }) => facts?.['limit'] === 46,
      );
    expect(await finding()).toMatchObject({ level: 'caution' });
    await set(surgeon, { ...change, was: 46, value: 90 });
    expect(await finding()).toBeUndefined();
    const body = { key: 'companionFromPercent', was: 15, value: 40, why: 'Agreed.', password };
    await set(surgeon, body);
    expect((await coordinator.post<PlanResult>(path, {})).body.companion).toMatchObject({ fromChance: 0.4 });
    const record = await administrator.get<{ items: { action: string; facts: object }[] }>('/api/audit');
    expect(
      record.body.items.filter(({ action }) => action === 'limit.set').map(({ facts }) => facts),
    ).toContainEqual({ limit: 'companionFromPercent', before: 15, after: 40, unit: 'percent' });
  });

  it('are refused outside their range, broken, unchanged, or past their neighbour, at the field to mend', async () => {
    const wrong = [
      [{ key: 'ageAtLeast', was: 21, value: 15 }, undefined],
      [{ key: 'ageAtLeast', was: 21, value: 21.5 }, undefined],
      [{ key: 'ageAtLeast', was: 21, value: 21 }, 'limit.same'],
      [{ key: 'vaultLowBelowUm', was: 250, value: 800 }, 'limit.passes'],
      [{ key: 'depthCautionBelowMm', was: 3, value: 2.5 }, 'limit.passes'],
    ] as const;
    for (const [body, code] of wrong) {
      const answer = await set(surgeon, { ...body, why: 'Agreed.', password });
      expect(answer, JSON.stringify(body)).toMatchObject({
        status: 400,
        body: { errors: [{ pointer: '/value' }] },
      });
      if (code !== undefined) expect(answer.body.code).toBe(code);
    }
    expect((await limit('vaultLowBelowUm')).value).toBe(250);
  });

  it('rise in step when two surgeons set neighbours at once', async () => {
    const both = await Promise.all([
      set(surgeon, { key: 'vaultAlertBelowUm', was: 100, value: 240, why: 'Agreed.', password }),
      set(surgeon, { key: 'vaultLowBelowUm', was: 250, value: 150, why: 'Agreed.', password }),
    ]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, 400]);
    const [alert, low] = [await limit('vaultAlertBelowUm'), await limit('vaultLowBelowUm')];
    expect(alert.value).toBeLessThanOrEqual(low.value);
  });
});
