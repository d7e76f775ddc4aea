import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CaseDetail, EditMaker, MakerSummary } from '@lensferry/contracts';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { openScene } from '../support/scenes.js';

/** The next Wednesday at an hour in UTC: a working day after which comes another. */
function wednesdayAt(hour: number): Date {
  const day = new Date();
  day.setUTCHours(hour, 0, 0, 0);
  day.setUTCDate(day.getUTCDate() + ((3 - day.getUTCDay() + 7) % 7 || 7));
  return day;
}
const plus = (day: Date, days: number): string =>
  new Date(day.getTime() + days * 86_400_000).toISOString().slice(0, 10);

describe('what is agreed with a maker', () => {
  let house: House;
  let ada: Person;
  let una: Person;
  const clock = new SetClock(wednesdayAt(10));
  beforeAll(async () => {
    house = await openHouse({ clock });
    ada = await house.signIn('ada');
    una = await house.signIn('una');
  });
  afterAll(() => house?.close());

  const quillon = async (): Promise<MakerSummary> => {
    const { body } = await ada.get<{ items: MakerSummary[] }>('/api/makers');
    return body.items.find(({ code }) => code === 'QUILLON')!;
  };
  const edit = async (change: Partial<EditMaker>, who = ada) => {
    const { id, version, contact, currency, returnWindowDays, timeZone, cutOff, holidays, terms } =
      await quillon();
    const body = {
      version,
      contact,
      currency,
      returnWindowDays,
      timeZone,
      cutOff,
      holidays,
      terms,
      ...change,
    };
    return who.post<MakerSummary>(`/api/makers/${id}/edit`, body);
  };

  it('is changed by an administrator, once for each version, and is on the record', async () => {
    const terms = 'Returns unused within the window are credited in full.';
    const first = await quillon();
    const done = await edit({ terms, returnWindowDays: 75, contact: 'desk@quillon.example' });
    expect(done).toMatchObject({
      status: 200,
      body: { terms, returnWindowDays: 75, contact: 'desk@quillon.example', version: first.version + 1 },
    });
    const stale = await edit({ version: first.version, returnWindowDays: 10 });
    expect(stale).toMatchObject({ status: 409, body: { code: 'maker.moved' } });
    expect((await edit({ returnWindowDays: 10 }, una)).status).toBe(403);
    expect((await quillon()).returnWindowDays).toBe(75);
    const { body } = await ada.get<{ items: { action: string; facts: object }[] }>('/api/audit');
    const entry = body.items.find(({ action }) => action === 'maker.edit');
    expect(entry?.facts).toMatchObject({
      maker: first.name,
      differences: expect.arrayContaining([
        { field: 'returnWindowDays', before: first.returnWindowDays, after: 75 },
      ]),
    });
  });

  it('is refused where an hour, a zone or a currency does not exist', async () => {
    for (const wrong of [{ cutOff: '25:00' }, { timeZone: 'Europe/Nowhere' }, { currency: 'eur' }])
      expect((await edit(wrong)).status, JSON.stringify(wrong)).toBe(400);
  });

  it('moves an offer to the next working day once its cut-off has passed', async () => {
    const scene = await openScene(house);
    const offer = async () => {
      const { body } = await una.get<CaseDetail>(`/api/cases/${scene.caseId}`);
      return body.offers!.find(({ makerName }) => makerName === 'Quillon')!.dates;
    };
    expect((await edit({ cutOff: '16:00', timeZone: 'Europe/Zurich', holidays: [] })).status).toBe(200);
    const early = await offer();
    expect(early).toMatchObject({
      sentOn: plus(clock.now(), 0),
      cutOff: { at: '16:00', timeZone: 'Europe/Zurich' },
    });
    // 16:00 in Zurich is 14:00 or 15:00 UTC; at 18:00 UTC it has passed in summer and in winter.
    clock.set(wednesdayAt(18));
    una = await house.signIn('una');
    const late = await offer();
    expect(late.sentOn).toBe(plus(clock.now(), 1));
    expect(late.p50 > early.p50).toBe(true);
    expect(late.earliestTheatreOn > early.earliestTheatreOn).toBe(true);
  });
});
