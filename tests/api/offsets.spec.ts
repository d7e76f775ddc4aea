import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { powerVector, withOffset } from '../../packages/calculation/src/index.js';
import type { CaseDetail, OffsetOffer, OrderDetail, PlanResult } from '../../packages/contracts/src/index.js';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { openHouse, password, type House, type Person } from '../support/house.js';
import { tellPasts, type Past } from '../support/pasts.js';

/** Thirteen eyes fall into three classes of axis, so that one has five or more; and eyes that wait for a plan. */
const pasts: readonly Past[] = [
  ...Array.from({ length: 13 }, (_, i): Past => ['followed-up', 'EST', 'QUILLON', 110 + i]),
  ...Array.from({ length: 6 }, (_, i): Past => ['to-plan', 'EST', 'QUILLON', 2 + i]),
  ['to-plan', 'HAR', 'QUILLON', 3],
];
const target = { sphereD: 0, cylinderD: 0, axisDeg: null };
const vectorOf = ({
  sphereD,
  cylinderD,
  axisDeg,
}: {
  sphereD: number;
  cylinderD: number;
  axisDeg: number | null;
}) => powerVector({ sphereD, cylinderD, axisDeg: axisDeg ?? 0 });

describe('a learned offset of refraction beside a plan', () => {
  const clock = new SetClock(new Date());
  let house: House;
  let una: Person;
  let ilse: Person;
  let rhea: Person;
  /** A case whose place has taught enough, and what it is offered. */
  let caseId = '';
  let offered: OffsetOffer;

  beforeAll(async () => {
    house = await openHouse({ clock });
    await tellPasts(house, clock, pasts, 300);
    [una, ilse, rhea] = (await Promise.all(['una', 'ilse', 'rhea'].map((name) => house.signIn(name)))) as [
      Person,
      Person,
      Person,
    ];
    for (const { id } of await toPlan(una)) {
      const { body } = await una.get<OffsetOffer>(`/api/cases/${id}/offset`);
      if (body.offer?.usable) [caseId, offered] = [id, body];
    }
  }, 180_000);
  afterAll(() => house?.close());

  const toPlan = async (person: Person) => {
    const { body } = await person.get<{ items: { id: string; stage: string }[] }>('/api/cases?perPage=100');
    return body.items.filter(({ stage }) => stage === 'planning');
  };
  const offer = () => offered.offer!;
  const shown = () => ({
    meanD: offer().mean.estimateD,
    j0D: offer().j0.estimateD,
    j45D: offer().j45.estimateD,
  });
  const preview = (person: Person, withOffset: boolean, id = caseId) =>
    person.post<PlanResult & { code?: string }>(`/api/cases/${id}/plan-preview`, { target, withOffset });
  /** The first lens of a plan, as somebody chooses it. */
  const choiceFrom = ({ options, sizing }: PlanResult) => {
    const { designVersionId, sphereD, cylinderD, axisDeg } = options[0]!;
    const lengthMm = sizing.find((one) => one.designVersionId === designVersionId)!.suggestedLengthMm;
    return { target, designVersionId, sphereD, cylinderD, axisDeg, lengthMm };
  };
  const keep = (person: Person, body: object) =>
    person.post<OrderDetail & { code?: string }>(`/api/cases/${caseId}/plans`, body);

  it('is offered with its place, n and limits, and changes nothing by itself', async () => {
    expect(offered.leastEyes).toBe(5);
    expect(offer()).toMatchObject({
      device: 'subjective, phoropter',
      clinic: 'Estuary Clinic',
      eyes: 13,
      usable: true,
    });
    expect(offer().n).toBeGreaterThanOrEqual(5);
    expect(offer().n).toBeLessThan(13);
    for (const { lowD, estimateD, highD } of [offer().mean, offer().j0, offer().j45])
      expect(lowD < estimateD && estimateD < highD).toBe(true);
    const { body: plain } = await preview(una, false);
    expect(plain.offset ?? null).toBeNull();
    const { refraction } = plain.input;
    const planned = withOffset({ ...refraction, axisDeg: refraction.axisDeg ?? 0 }, shown());
    expect(vectorOf(offer().refraction).meanD).toBeCloseTo(powerVector(planned).meanD, 9);
    expect(vectorOf(offer().refraction).j0D).toBeCloseTo(powerVector(planned).j0D, 9);
    expect((await una.get<CaseDetail>(`/api/cases/${caseId}`)).body.plans).toEqual([]);
  });

  it('moves the lens that the eye needs, for a surgeon who looks at it; nobody else', async () => {
    expect((await preview(una, true)).status).toBe(403);
    const [plain, moved] = [(await preview(ilse, false)).body, (await preview(ilse, true)).body];
    expect(moved.offset).toMatchObject({ n: offer().n, refraction: offer().refraction });
    expect(moved.input).toEqual(plain.input);
    const [from, to] = [vectorOf(plain.idealLens), vectorOf(moved.idealLens)];
    // At the lens plane a dioptre of spectacles is more than one, and of the same sign.
    expect(Math.sign(to.meanD - from.meanD)).toBe(Math.sign(shown().meanD));
    expect(Math.abs(to.meanD - from.meanD)).toBeGreaterThan(0.7 * Math.abs(shown().meanD));
  });

  it('is not planned with where too few eyes of the place are behind it', async () => {
    const { id } = (await toPlan(rhea))[0]!;
    const { body } = await rhea.get<OffsetOffer>(`/api/cases/${id}/offset`);
    expect(body.offer).toBeNull();
    expect((await preview(rhea, true, id)).body.code).toBe('plan.offset-none');
    const few = (
      await Promise.all(
        (await toPlan(una)).map(async (one) => ({
          id: one.id,
          offer: (await una.get<OffsetOffer>(`/api/cases/${one.id}/offset`)).body.offer,
        })),
      )
    ).find((one) => one.offer?.usable === false);
    if (few !== undefined) expect((await preview(ilse, true, few.id)).body.code).toBe('plan.offset-too-few');
  });

  it('is chosen by a surgeon with a reason, as it was shown, and stands in plan, record and signature', async () => {
    const { body: result } = await preview(ilse, true);
    const choice = choiceFrom(result);
    const why = 'Our phoropter reads short; thirteen eyes say so.';
    expect((await keep(ilse, { ...choice, offset: { ...shown(), why: '' } })).status).toBe(400);
    expect((await keep(una, { ...choice, offset: { ...shown(), why } })).status).toBe(403);
    const other = { ...shown(), meanD: shown().meanD + 0.02, why };
    expect((await keep(ilse, { ...choice, offset: other })).body.code).toBe('plan.offset-moved');
    const kept = await keep(ilse, { ...choice, offset: { ...shown(), why } });
    expect(kept.status).toBe(201);
    const { body: eyeCase } = await una.get<CaseDetail>(`/api/cases/${caseId}`);
    const plan = eyeCase.plans.at(-1)!;
    expect(plan.choice.offset).toEqual({ ...shown(), why });
    expect(plan.result.offset?.n).toBe(offer().n);
    // What the optics alone say is kept beside it, off by about the offset: that is what goes on being learned from.
    const [byOptics, expected] = [vectorOf(plan.result.offset!.byOptics!), vectorOf(plan.chosen.predicted)];
    const aside = Math.abs(expected.meanD - byOptics.meanD - shown().meanD);
    expect(aside).toBeLessThan(0.005 + Math.hypot(shown().meanD, shown().j0D, shown().j45D) / 14);
    const record = eyeCase.history.find(({ action }) => action === 'case.plan');
    expect(record).toMatchObject({ why });
    expect(JSON.stringify(record)).toContain('"offset"');
    await una.post(`/api/orders/${kept.body.id}/submit`, { version: kept.body.version });
    const { body: order } = await ilse.get<OrderDetail>(`/api/orders/${kept.body.id}`);
    const reasons = Object.fromEntries(order.stops.map(({ code }) => [code, 'The test goes on.']));
    const signed = await ilse.post<OrderDetail>(`/api/orders/${order.id}/sign`, {
      version: order.version,
      specificationHash: order.specificationHash,
      password,
      reasons,
    });
    expect(signed.status).toBe(200);
    const meaning = signed.body.signatures.at(-1)!.meaning;
    expect(meaning).toMatch(/planned with a learned offset of refraction, mean power [−+]\d\.\d\d D \(/);
    expect(meaning).toContain(`from ${offer().n} eyes, for the reason written in plan 1.`);
    // The signature goes to the maker; what the surgeon wrote stays.
    expect(meaning).not.toContain('phoropter');
  });

  it('is chosen anew for each plan: the next one without it says nothing of it', async () => {
    const { body: result } = await preview(una, false);
    const kept = await keep(una, choiceFrom(result));
    expect(kept.status).toBe(201);
    const plan = (await una.get<CaseDetail>(`/api/cases/${caseId}`)).body.plans.at(-1)!;
    expect([plan.number, plan.result.offset ?? null, plan.choice.offset]).toEqual([2, null, undefined]);
  });
});
