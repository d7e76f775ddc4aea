import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Recall } from '@lensferry/contracts';
import { openHouse, type House } from '../support/house.js';
import { implant, sceneAt, type Scene } from '../support/scenes.js';

describe('a recall', () => {
  let house: House;
  let inEye: Scene;
  let onShelf: Scene;
  beforeAll(async () => {
    house = await openHouse();
    inEye = await sceneAt(house, 'accepted', { clinic: 'EST' });
    await implant(inEye);
    onShelf = await sceneAt(house, 'accepted', { clinic: 'NOR' });
    await sceneAt(house, 'accepted', { clinic: 'EST', maker: 'OSTREL' });
  });
  afterAll(() => house?.close());
  const ask = async (who: string, query: string) =>
    (await house.signIn(who)).get<Recall & { code?: string }>(`/api/recall${query}`);

  it('finds a design’s units across the clinics that one may see, eyes with one in them first', async () => {
    const { body } = await ask('mara', '?designCode=QL-TARN');
    expect(body.lenses.map(({ serial }) => serial).sort()).toEqual(
      [inEye.unit!.serial, onShelf.unit!.serial].sort(),
    );
    expect(body.byState).toEqual({ implanted: 1, reserved: 1 });
    expect(body.cases.map(({ id, inEye: now }) => [id, now])).toEqual([
      [inEye.caseId, true],
      [onShelf.caseId, false],
    ]);
  });

  it('finds a lot whatever its letters’ case, at one’s own clinics only', async () => {
    const { body } = await ask('oona', `?lot=${inEye.unit!.lot.toLowerCase()}`);
    expect(body.lenses.map(({ clinic }) => clinic.name)).toContain('Estuary Clinic');
    expect(body.lenses.every(({ clinic }) => clinic.name === 'Estuary Clinic')).toBe(true);
    const both = await ask('oona', `?lot=${inEye.unit!.lot}&designCode=QL-TARN`);
    expect(both.body.lenses.map(({ serial }) => serial)).toEqual([inEye.unit!.serial]);
  });

  it('finds nothing until something is named, nor for a design that is not there', async () => {
    for (const query of ['', '?lot=NONE'])
      expect((await ask('oona', query)).body, query).toEqual({ lenses: [], byState: {}, cases: [] });
    expect((await ask('oona', '?designCode=NO-SUCH')).body).toMatchObject({
      lenses: [],
      cases: [],
      byState: {},
    });
  });
});
