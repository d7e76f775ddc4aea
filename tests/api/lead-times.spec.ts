import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { addWorkingDays } from '@lensferry/calculation';
import type { CaseDetail, MakerLeadTimes, MakerSummary, OrderDetail, PlanResult } from '@lensferry/contracts';
import { openMeasuredCase } from '../support/eye.js';
import { openHouse, password, type House, type Person } from '../support/house.js';

const plano = { sphereD: 0, cylinderD: 0, axisDeg: null };

describe('dates before an order is placed, and what a maker’s orders teach', () => {
  const clock = new SetClock(new Date());
  const start = clock.now();
  let house: House;
  let coordinator: Person;
  let surgeon: Person;
  let clerk: Person;
  let makerId: string;
  beforeAll(async () => {
    house = await openHouse({ clock });
    [coordinator, surgeon, clerk] = await Promise.all([
      house.signIn('una'),
      house.signIn('ilse'),
      house.signIn('oona'),
    ]);
    makerId = house.network.makers.find(({ code }) => code === 'FENNICK')!.id;
  });
  afterAll(() => house.close());

  const openCase = (codeName: string) => {
    const clinic = house.network.clinics.find(({ code }) => code === 'EST')!;
    return openMeasuredCase(coordinator, {
      clinicId: clinic.id,
      surgeonId: clinic.staff.surgeon.personId!,
      codeName,
    });
  };
  const caseNow = async (id: string) => (await coordinator.get<CaseDetail>(`/api/cases/${id}`)).body;
  const theatreIn = async (id: string, days: number) => {
    const { version } = await caseNow(id);
    const theatreOn = new Date(start.getTime() + days * 86_400_000).toISOString().slice(0, 10);
    const { status } = await coordinator.post(`/api/cases/${id}/theatre-date`, { version, theatreOn });
    expect(status).toBe(200);
    return theatreOn;
  };

  it('shows for each maker that can make the lens by when it comes and the last day to order', async () => {
    const { id } = await openCase('Sorrel 1');
    const without = await caseNow(id);
    expect(without.offers!.length).toBeGreaterThan(1);
    for (const { dates } of without.offers!) {
      expect(dates).toMatchObject({ theatreOn: null, orderBy: null, chanceForTheatre: null, tooLate: false });
      expect(dates.p10 <= dates.p50 && dates.p50 <= dates.p90).toBe(true);
      expect(dates.earliestTheatreOn > dates.p90).toBe(true);
    }
    const theatreOn = await theatreIn(id, 60);
    const { offers } = await caseNow(id);
    const chances = offers!.map(({ dates }) => dates.chanceForTheatre!);
    expect(chances).toEqual([...chances].sort((a, b) => b - a));
    for (const { dates } of offers!) {
      expect(dates.theatreOn).toBe(theatreOn);
      // Ordering by the last day and having 95 % today are the same question asked from two sides. Only a chance
      // of being cancelled, which dates leave aside, may keep the chance itself just below.
      if (!dates.tooLate) expect(dates.chanceForTheatre).toBeGreaterThan(0.9);
      else expect(dates.chanceForTheatre).toBeLessThan(0.95);
      expect(dates.tooLate).toBe(dates.earliestTheatreOn > theatreOn);
    }
    const slow = offers!.find(({ makerName }) => makerName === 'Fennick Bench')!;
    const fast = offers!.find(({ makerName }) => makerName === 'Quillon')!;
    expect(slow.dates.tooLate).toBe(true);
    expect(fast.dates.tooLate).toBe(false);
  });

  it('says of every design that is not offered why, in the case and in the plan', async () => {
    const { id } = await openCase('Sorrel 1b');
    const { offers, unable } = await caseNow(id);
    const { items: all } = (await coordinator.get<{ items: MakerSummary[] }>('/api/makers')).body;
    const plan = (await coordinator.post<PlanResult>(`/api/cases/${id}/plan-preview`, {})).body;
    expect(plan.unable).toEqual(unable);
    const told = [...offers!, ...unable!].map(({ designVersionId }) => designVersionId);
    expect([...told].sort()).toEqual(all.flatMap(({ designs }) => designs.map((design) => design.id)).sort());
    for (const { reasons } of unable!) expect(reasons.length).toBeGreaterThan(0);
  });

  it('gives a plan’s options the same dates, and keeps them with the plan', async () => {
    const { id } = await openCase('Sorrel 2');
    await theatreIn(id, 60);
    const plan = (await coordinator.post<PlanResult>(`/api/cases/${id}/plan-preview`, {})).body;
    const { offers } = await caseNow(id);
    for (const offer of offers!) {
      const option = plan.options.find(({ designVersionId }) => designVersionId === offer.designVersionId);
      if (option?.quotedWorkingDays === offer.quotedWorkingDays) expect(option.dates).toEqual(offer.dates);
    }
    const option = plan.options.find(({ makerName }) => makerName === 'Quillon')!;
    await choose(id, option, plan);
    const [kept] = (await caseNow(id)).plans;
    expect(kept?.chosen.dates).toEqual(option.dates);
  });

  const choose = async (id: string, option: PlanResult['options'][number], plan: PlanResult) => {
    const { designVersionId, sphereD, cylinderD, axisDeg } = option;
    const { suggestedLengthMm } = plan.sizing.find((size) => size.designVersionId === designVersionId)!;
    const answer = await coordinator.post<OrderDetail>(`/api/cases/${id}/plans`, {
      target: plano,
      designVersionId,
      sphereD,
      cylinderD,
      axisDeg,
      lengthMm: suggestedLengthMm,
    });
    expect(answer.status).toBe(201);
    return answer.body;
  };

  const order = async (codeName: string): Promise<OrderDetail> => {
    const { id } = await openCase(codeName);
    const plan = (await coordinator.post<PlanResult>(`/api/cases/${id}/plan-preview`, {})).body;
    let made = await choose(
      id,
      plan.options.find(({ makerName }) => makerName === 'Fennick Bench')!,
      plan,
    );
    const step = async (who: Person, name: string, body: object = {}) => {
      const answer = await who.post<OrderDetail>(`/api/orders/${made.id}/${name}`, {
        version: made.version,
        ...body,
      });
      expect(answer.status, JSON.stringify(answer.body)).toBe(200);
      made = answer.body;
    };
    await step(coordinator, 'submit');
    await step(surgeon, 'sign', { specificationHash: made.specificationHash, password });
    await step(coordinator, 'place');
    await step(coordinator, 'deliver');
    return made;
  };

  it('knows nothing of a maker before the first order', async () => {
    const { body } = await coordinator.get<MakerLeadTimes>(`/api/makers/${makerId}/lead-times`);
    expect(body).toMatchObject({
      all: null,
      classes: [],
      promisesKept: null,
      calibration: null,
      exchanged: null,
    });
    expect((await coordinator.get(`/api/makers/${crypto.randomUUID()}/lead-times`)).status).toBe(404);
  });

  it('counts arrivals and open orders, promises and calibration', async () => {
    const [early, late, open] = [await order('Sorrel 3'), await order('Sorrel 4'), await order('Sorrel 5')];
    const sentOn = early.sentAt!.slice(0, 10);
    const holidays = new Set<string>();
    const promisedOn = addWorkingDays(sentOn, 50, holidays);
    for (const { id, version } of [early, late])
      expect((await coordinator.post(`/api/orders/${id}/acknowledge`, { version, promisedOn })).status).toBe(
        200,
      );
    await receive(early, addWorkingDays(sentOn, 45, holidays));
    await receive(late, addWorkingDays(sentOn, 60, holidays));
    const { body } = await coordinator.get<MakerLeadTimes>(`/api/makers/${makerId}/lead-times`);
    expect(body.all).toMatchObject({ orders: 3, arrivals: 2, open: 1, cancelled: 0 });
    expect(body.classes.map(({ quotedWorkingDays }) => quotedWorkingDays)).toEqual([open.quotedWorkingDays]);
    expect(body.classes[0]?.designs).toEqual(['One-eye bench lens']);
    // One of two first promises kept: Wilson 95 % of 1/2 is 9.45 to 90.55 % [recomputed from Wilson's formula].
    expect(body.promisesKept).toMatchObject({ count: 1, of: 2, share: 0.5 });
    expect(body.promisesKept!.low).toBeCloseTo(0.0945, 4);
    // The product-limit steps at the two arrivals: one of three, then one of the two that were left.
    expect(body.all!.steps.map(({ arrived }) => Number(arrived.toFixed(6)))).toEqual([0.333333, 0.666667]);
    expect(body.calibration).toMatchObject({ level: 0.9, of: 2 });
    expect(body.calibration!.count).toBeGreaterThan(1.5);
    expect(body.declined).toMatchObject({ count: 0, of: 2 });
  });

  const receive = async ({ id, specification }: OrderDetail, on: string) => {
    clock.set(new Date(`${on}T10:00:00Z`));
    clerk = await house.signIn('oona');
    const { eye, sphereD, cylinderD, axisDeg, lengthMm, caseCode } = specification;
    const label = {
      serial: `S-${id.slice(-6)}`,
      expiresOn: '2031-01-31',
      eye,
      sphereD,
      cylinderD,
      axisDeg,
      lengthMm,
      caseCode,
    };
    const answer = await clerk.post(`/api/orders/${id}/receive`, {
      label,
      outcome: 'accept',
      location: 'shelf 1',
    });
    expect(answer.status, JSON.stringify(answer.body)).toBe(200);
    coordinator = await house.signIn('una');
    surgeon = await house.signIn('ilse');
  };

  it('offers nobody once an order is with its maker', async () => {
    const { case: eyeCase } = await order('Sorrel 6');
    expect((await caseNow(eyeCase.id)).offers).toBeNull();
  });
});
