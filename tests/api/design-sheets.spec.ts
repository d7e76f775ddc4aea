import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { MakerSummary, SheetPreview } from '@lensferry/contracts';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { day } from '../support/eye.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { sceneAt, specificationOf } from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

interface Refused {
  code: string;
  facts: { faults: string[] };
}

describe('the sheet of a design as a file', () => {
  let house: House;
  let ada: Person;
  let una: Person;
  let past: Superuser;
  const clock = new SetClock(new Date());
  beforeAll(async () => {
    house = await openHouse({ clock });
    past = await asSuperuser(house.db);
    ada = await house.signIn('ada');
    una = await house.signIn('una');
  });
  afterAll(async () => {
    await past?.close();
    await house?.close();
  });

  const makers = async () => (await ada.get<{ items: MakerSummary[] }>('/api/makers')).body.items;
  const pathOf = async (code: string) => {
    const maker = (await makers()).find(({ designs }) => designs.some((design) => design.code === code))!;
    return `/api/makers/${maker.id}/designs/${code}`;
  };
  const sheetOf = async (code: string): Promise<string> => {
    const url = `${await pathOf(code)}/sheet.csv`;
    const answer = await house.app.inject({ url, headers: { cookie: ada.cookie } });
    expect(answer.statusCode).toBe(200);
    return answer.payload;
  };
  const preview = async (code: string, file: string) =>
    (await ada.post<SheetPreview>(`${await pathOf(code)}/sheet-preview`, { file })).body;
  const keep = async (code: string, body: object, who = ada) =>
    who.post<MakerSummary & Refused>(`${await pathOf(code)}/sheet`, {
      newest: 1,
      validFrom: day(0),
      ...body,
    });
  const versions = async () => (await past.counts())['design_version'];

  it('changes nothing when it is read as it was written, whatever spreadsheet kept it', async () => {
    const codes = (await makers()).flatMap(({ designs }) => designs.map(({ code }) => code));
    expect(codes.length).toBeGreaterThan(3);
    const before = await versions();
    for (const code of codes) {
      const file = await sheetOf(code);
      const german = file
        .replaceAll(/(\d)\.(\d{1,2})\b/g, '$1,$2')
        .replaceAll(/(price.*\d),(\d\d)/g, '$1.$2');
      const semicolons = german.replaceAll(/^([^,]*),([^,]*),/gm, '$1;$2;').replaceAll('"', '');
      const quoted = file.replaceAll(/^(\w+),/gm, '"$1",');
      for (const same of [file, `\uFEFF${file}`, file.replaceAll('\r\n', '\n'), semicolons, quoted])
        expect(await preview(code, same), same).toMatchObject({ faults: [], differences: [] });
      expect(await keep(code, { file })).toMatchObject({ status: 422, body: { code: 'sheet.unchanged' } });
    }
    expect(await versions()).toEqual(before);
  });

  it('tells every fault at once and keeps nothing of a file that has one', async () => {
    const before = await versions();
    const file = (await sheetOf('QL-TARN'))
      .replace('sphere_min,D,-23', 'sphere_min,D,minus 23')
      .replace('lens_plane_offset,mm', 'lens_plane_offset,um')
      .replace('price,CHF,1480.00', 'price,CHF,=1+1')
      .replace(/quoted_made.*\r\n/, '')
      .replace(/gtin,,/, 'gtin,,09506000134353')
      .concat('colour,,blue\r\n');
    const { faults, differences } = await preview('QL-TARN', file);
    expect(differences).toEqual([]);
    expect(faults.map(({ row, column, value }) => [row, column, value])).toEqual([
      [3, 'value', 'minus 23'],
      [14, 'unit', 'um'],
      [21, 'value', '=1+1'],
      [23, 'value', '09506000134353'],
      [24, 'field', 'colour'],
      [25, 'field', 'quoted_made'],
    ]);
    const refused = await keep('QL-TARN', { file });
    expect(refused).toMatchObject({ status: 400, body: { code: 'sheet.faults' } });
    expect(refused.body.facts.faults).toHaveLength(6);
    expect(await versions()).toEqual(before);
  });

  it.each([
    ['an open quote', () => 'field,unit,value\n"design', 'never closed'],
    ['another heading', () => 'name;value\ndesign;QL-TARN', 'first row must be'],
    ['another design', (file: string) => file.replace('QL-TARN', 'MR-SHELF'), 'sheet of QL-TARN'],
    ['limits the wrong way round', (file: string) => file.replace('D,-23', 'D,9'), 'lies above'],
    ['a step past the end', (file: string) => file.replace('step,D,0.25', 'step,D,0.7'), "don't meet"],
    ['half of a shelf', (file: string) => file.replace('stocked_sphere_min,D,', '$&-9'), 'all three'],
    ['axes with any axis', (file: string) => file.replace('axes,degrees,', '$&90'), 'leave axes empty'],
    ['a fixed axis without one', (file: string) => file.replace(',any', ',fixed'), 'fill the row axes'],
    ['a length twice', (file: string) => file.replace('lengths,mm,11.5 ', '$&11.5 '), 'only once'],
    ['a row twice', (file: string) => `${file}gtin,,`, 'there twice'],
    ['a comma too many', (file: string) => file.replace('D,-23', 'D,-23,0'), 'three cells'],
  ])('refuses %s in a sentence', async (_, spoil, sentence) => {
    const { faults } = await preview('QL-TARN', spoil(await sheetOf('QL-TARN')));
    expect(faults.map(({ message }) => message).join('\n')).toContain(sentence);
  });

  it('makes a version that is valid from its day on; orders keep theirs', async () => {
    const scene = await sceneAt(house, 'draft');
    const { designCode: code, designVersion } = await specificationOf(scene);
    expect(designVersion).toBe(1);
    const file = (await sheetOf(code)).replace(/^price,(\w+),.*$/m, 'price,$1,2001.00');
    const { differences, newest } = await preview(code, file);
    expect(differences).toMatchObject([{ field: 'price', after: '2001.00' }]);
    const validFrom = day(-30);
    expect((await keep(code, { file, validFrom }, una)).status).toBe(403);
    expect((await keep(code, { file, validFrom: day(3) })).body.code).toBe('sheet.too-early');
    expect((await keep(code, { file, newest, validFrom })).status).toBe(200);
    expect((await keep(code, { file, newest, validFrom })).body.code).toBe('sheet.moved');
    const shown = async () =>
      (await makers()).flatMap(({ designs }) => designs).find((d) => d.code === code)!;
    expect((await shown()).version).toBe(1);
    const { body } = await ada.get<{ items: { action: string; facts: object }[] }>('/api/audit');
    expect(body.items.find(({ action }) => action === 'maker.sheet')?.facts).toMatchObject({
      design: code,
      version: 2,
      validFrom,
      differences: [{ field: 'price', unit: expect.any(String), after: '2001.00' }],
    });
    clock.set(new Date(`${day(-31)}T10:00:00Z`));
    ada = await house.signIn('ada');
    const next = await shown();
    expect(next).toMatchObject({ version: 2, validFrom, sheet: { price: { base: '2001.00' } } });
    expect(next.sheet.vaultModel).not.toBeNull();
    expect((await specificationOf(scene)).designVersion).toBe(1);
  });
});
