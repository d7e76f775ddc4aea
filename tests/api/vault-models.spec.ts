import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type {
  DesignModels,
  PlanResult,
  VaultLearnings,
  VaultModels,
} from '../../packages/contracts/src/index.js';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { openHouse, password, type House, type Person } from '../support/house.js';
import { tellPasts, type Past } from '../support/pasts.js';
import { openScene, sceneAt } from '../support/scenes.js';

const DESIGN = 'QL-TARN';

describe('a change of vault model', () => {
  const clock = new SetClock(new Date());
  let house: House;
  let administrator: Person;
  let surgeon: Person;
  let elsewhere: Person;

  beforeAll(async () => {
    house = await openHouse({ clock });
    const pasts = [0, 1, 2, 3, 4, 5, 6, 7].map((i): Past => [
      'closed',
      i < 5 ? 'EST' : 'HAR',
      'QUILLON',
      500 + i * 15,
    ]);
    await tellPasts(house, clock, pasts, 91);
    [administrator, surgeon, elsewhere] = await Promise.all([
      house.signIn('ada'),
      house.signIn('ilse'),
      house.signIn('rhea'),
    ]);
  }, 180_000);
  afterAll(() => house.close());

  const tarn = ({ items }: VaultModels): DesignModels => items.find((one) => one.designCode === DESIGN)!;
  const models = async (): Promise<DesignModels> =>
    tarn((await surgeon.get<VaultModels>('/api/outcomes/models')).body);
  const propose = (person: Person, kind: 'learned' | 'former', version: number, designCode = DESIGN) =>
    person.post<VaultModels & { code?: string }>('/api/outcomes/models/proposals', {
      designCode,
      kind,
      version,
      why: 'The vaults of a year are in.',
    });
  const sign = (person: Person, id: string, as = password) =>
    person.post<VaultModels & { code?: string }>(`/api/outcomes/models/proposals/${id}/sign`, {
      password: as,
    });
  const past = async <Row>(sql: string): Promise<Row[]> => {
    const client = new pg.Client({ connectionString: house.db.superuserUrl });
    await client.connect();
    try {
      return (await client.query(sql)).rows as Row[];
    } finally {
      await client.end();
    }
  };
  const plansOf = () =>
    past<{ id: string; hash: string }>('select id, md5(result::text) as hash from plan order by id');
  /** What an eye of a new case is told of the design's vault now. */
  const vaultNow = async (): Promise<number> => {
    const scene = await openScene(house);
    const una = await house.signIn('una');
    const { body } = await una.post<PlanResult>(`/api/cases/${scene.caseId}/plan-preview`, {});
    const current = await past<{ id: string }>(
      `select v.id from design_version v join design d on d.id = v.design_id where d.code = '${DESIGN}' order by v.version desc limit 1`,
    );
    const sizing = body.sizing.find(({ designVersionId }) => designVersionId === current[0]!.id)!;
    return sizing.sizes.find(({ lengthMm }) => lengthMm === 12.5)!.vaultUm.p50;
  };

  it('is proposed by an administrator, and nobody else; a proposal changes nothing', async () => {
    const before = await models();
    expect(before).toMatchObject({ version: 1, open: null, hasFormer: false });
    for (const person of [surgeon, await house.signIn('una'), await house.signIn('ivo')])
      expect((await propose(person, 'learned', 1)).status).toBe(403);
    expect((await propose(administrator, 'learned', 2)).body.code).toBe('model.sheet-moved');
    expect((await propose(administrator, 'former', 1)).body.code).toBe('model.no-former');
    expect((await propose(administrator, 'learned', 1, 'QL-NONE')).status).toBe(404);
    const few = await propose(administrator, 'learned', 1, 'MR-SHELF');
    expect(few.body.code).toBe('model.none');
    expect((await propose(administrator, 'learned', 1, 'OG-HIGH')).body.code).toBe('model.too-few');
    const vaultUm = await vaultNow();
    const { status, body } = await propose(administrator, 'learned', 1);
    expect(status).toBe(200);
    const { open, inUse, version } = tarn(body);
    expect([inUse, version]).toEqual([before.inUse, 1]);
    const learnings = (await administrator.get<VaultLearnings>('/api/outcomes/vault')).body.items;
    const n = learnings.find(({ designCode }) => designCode === DESIGN)?.n ?? 0;
    expect(n).toBeGreaterThanOrEqual(5);
    expect(open?.check).toMatchObject({ eyes: n, how: 'prequential' });
    expect(open?.check.after.coverage.map(({ level, n: of }) => [level, of])).toEqual([
      [0.5, n],
      [0.8, n],
      [0.9, n],
    ]);
    for (const { before: was, after } of open?.check.lengths ?? []) {
      expect(was.lowUm < was.vaultUm && was.vaultUm < was.highUm).toBe(true);
      expect(after.lowUm < after.vaultUm && after.vaultUm < after.highUm).toBe(true);
    }
    expect(await vaultNow()).toBe(vaultUm);
  });

  it('is signed by a surgeon with the password; only then new plans go by it, and old ones stay', async () => {
    const scene = await sceneAt(house, 'queued');
    const specification = `select specification_hash as hash from lens_order where id = '${scene.orderId}'`;
    const [order] = await past(specification);
    const before = await plansOf();
    const { open } = await models();
    const id = open!.id;
    const was = await vaultNow();
    expect((await sign(administrator, id)).status).toBe(403);
    expect((await sign(surgeon, id, 'not it')).body.code).toBe('person.password');
    expect((await models()).version).toBe(1);
    const { status, body } = await sign(surgeon, id);
    expect(status).toBe(200);
    const after = tarn(body);
    expect(after).toMatchObject({ version: 2, open: null, hasFormer: true, inUse: open!.model });
    expect(after.history[0]).toMatchObject({
      version: 2,
      signed: { by: 'Dr Ilse Varga', proposedBy: 'Ada Brook', why: 'The vaults of a year are in.' },
    });
    expect(after.history[1]).toMatchObject({ version: 1, signed: null });
    expect(await vaultNow()).not.toBe(was);
    // The page Learning tells what it began from, what is in use since the signature, and what is learned by now.
    const { items } = (await administrator.get<VaultLearnings>('/api/outcomes/vault')).body;
    const { model, coefficients } = items.find(({ designCode }) => designCode === DESIGN)!;
    const length = coefficients.find(({ of: what }) => what === 'lengthMm')!;
    expect([model.id, model.version]).toEqual([
      after.history[1]?.model?.id,
      after.history[1]?.model?.version,
    ]);
    expect(length.startUm).toBeCloseTo(657.121, 6);
    expect(length.usedUm).not.toBeCloseTo(657.121, 3);
    expect(length.usedUm).toBeCloseTo(length.nowUm, 6);
    expect(coefficients.filter(({ clinic }) => clinic !== null).every(({ usedUm }) => usedUm === null)).toBe(
      true,
    );
    const kept = await plansOf();
    expect(
      before.every((plan) => kept.some(({ id: one, hash }) => one === plan.id && hash === plan.hash)),
    ).toBe(true);
    expect((await past(specification))[0]).toEqual(order);
    expect((await sign(surgeon, id)).body.code).toBe('model.not-open');
    const entries = await past<{ facts: { version?: number } }>(
      "select facts from audit_entry where action = 'model.sign'",
    );
    expect(entries.map(({ facts }) => facts.version)).toEqual([2, 2]);
  });

  it('is learned anew from the model of the sheet, so that no eye counts twice', async () => {
    const [first] = (await models()).history;
    const { open } = tarn((await propose(administrator, 'learned', 2)).body);
    expect(open?.model.residualSdUm).toBe(first?.model?.residualSdUm);
    expect(open?.model.id).toBe(first?.model?.id);
    expect(open?.model.version).not.toBe(first?.model?.version);
  });

  it('is taken back by proposing the former model; a proposal that was replaced is not signed', async () => {
    const { open: replaced } = await models();
    const { open } = tarn((await propose(administrator, 'former', 2)).body);
    expect(open?.check.how).toBe('as-it-stands');
    expect((await sign(elsewhere, replaced!.id)).body.code).toBe('model.not-open');
    const { body } = await sign(elsewhere, open!.id);
    const after = tarn(body);
    expect(after.version).toBe(3);
    expect(after.inUse).toEqual(after.history[2]?.model);
    expect(after.history[0]?.signed?.by).toBe('Dr Rhea Kalos');
    expect(after.open).toBeNull();
  });

  it('is not signed when the sheet moved meanwhile, and wrong passwords run out', async () => {
    const { open } = tarn((await propose(administrator, 'learned', 3)).body);
    await past(`insert into design_version select gen_random_uuid(), design_id, 4, valid_from, sheet from design_version v
      where version = 3 and design_id = (select id from design where code = '${DESIGN}')`);
    expect((await sign(surgeon, open!.id)).body.code).toBe('model.sheet-moved');
    expect((await models()).open).toBeNull();
    for (const _ of [1, 2, 3, 4, 5]) await sign(elsewhere, open!.id, 'not it');
    expect((await sign(elsewhere, open!.id)).status).toBe(429);
  });
});
