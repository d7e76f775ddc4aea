import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Today } from '@lensferry/contracts';
import { copyScenes, keyOfCopy } from '../support/copied-scenes.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { implant, sceneAt, type Scene } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

/** More eyes than any list of today shows. */
const many = 600;

describe('eyes whose lens vaults badly', () => {
  let house: House;
  let root: Superuser;
  let una: Person;
  let poor: Scene;
  beforeAll(async () => {
    house = await openHouse();
    root = await asSuperuser(house.db);
    una = await house.signIn('una');
    poor = await operated(1150);
    await copyScenes(root, { orderIds: [poor.orderId], each: many, ended: false });
    await copyVisits(poor);
    await operated(600);
  }, 60_000);
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  const today = new Date().toISOString().slice(0, 10);
  const measure = async ({ caseId }: Scene, vaultUm: number) => {
    const { status } = await una.post(`/api/cases/${caseId}/measurements`, {
      kind: 'vault',
      takenOn: today,
      device: 'OCT',
      values: { vaultUm, lighting: 'dim' },
    });
    expect(status).toBeLessThan(300);
  };
  async function operated(vaultUm: number): Promise<Scene> {
    const scene = await sceneAt(house, 'accepted');
    await implant(scene);
    await measure(scene, vaultUm);
    return scene;
  }
  /** What `copyScenes` leaves out, under the keys that it gives. */
  async function copyVisits({ caseId }: Scene): Promise<void> {
    await root.rows('set session_replication_role = replica');
    for (const [table, keys] of [
      ['implantation', ['id', 'case_id', 'lens_id']],
      ['measurement', ['id', 'case_id']],
    ] as const)
      await root.rows(
        `insert into ${table} select (jsonb_populate_record(t, (${keys
          .map((key) => `jsonb_build_object('${key}', ${keyOfCopy(`t.${key}`)})`)
          .join(' || ')}))).* from ${table} t, generate_series(1, ${many}) n where t.case_id = $1`,
        [caseId],
      );
    await root.rows('set session_replication_role = origin');
  }
  const found = async () => (await una.get<Today>('/api/today')).body.poorVaults;

  it('are all found, however many they are, and none that vaults well', async () => {
    const eyes = await found();
    expect(eyes).toHaveLength(many + 1);
    expect(new Set(eyes.map(({ check }) => check.level))).toEqual(new Set(['stop']));
    expect(eyes.map(({ case: of }) => of.id)).toContain(poor.caseId);
  });

  it('are left out once the vault was measured well', async () => {
    await measure(poor, 640);
    const eyes = await found();
    expect(eyes).toHaveLength(many);
    expect(eyes.map(({ case: of }) => of.id)).not.toContain(poor.caseId);
  });
});
