import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { scheduleTheatre } from '../../apps/api/dist/cases/schedule-theatre.js';
import { loadCase } from '../../apps/api/dist/cases/cases.store.js';
import { axisInPlace } from '../../apps/api/dist/documents/theatre-sheet.js';
import { symbolOf } from '../../apps/api/dist/documents/symbol.js';
import { startReturn } from '../../apps/api/dist/returns/start-return.js';
import type { PlanRecord } from '@lensferry/contracts';
import { readLabel } from '@lensferry/domain';
import { day } from '../support/eye.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { readPdf } from '../support/read-pdf.js';
import {
  as,
  implant,
  openScene,
  orderOf,
  playTo,
  sceneAt,
  specificationOf,
  type Scene,
} from '../support/scenes.js';

const patient = 'Zdeňka Şükrüoğlu-Łoś';

describe('documents', () => {
  let house: House;
  let coordinator: Person;
  let scene: Scene;
  const print = async (path: string, who = coordinator) => {
    const answer = await house.app.inject({ url: path, headers: { cookie: who.cookie } });
    expect(answer.statusCode, answer.payload.slice(0, 300)).toBe(200);
    expect(answer.headers['content-type']).toBe('application/pdf');
    return readPdf(answer.rawPayload);
  };

  beforeAll(async () => {
    house = await openHouse();
    coordinator = await house.signIn('una');
    scene = await sceneAt(house, 'accepted', { patient, eye: 'OS' });
  });
  afterAll(() => house?.close());

  it('an order sheet says what was signed, in the form that cannot be misread, and names no patient', async () => {
    const order = await orderOf(scene);
    const spec = await specificationOf(scene);
    const { text, title, pages } = await print(`/api/orders/${scene.orderId}/order-sheet.pdf`);
    expect(title).toContain(order.number);
    expect(pages).toBe(1);
    for (const words of [
      'LEFT EYE',
      order.number,
      spec.caseCode,
      `−${Math.abs(spec.sphereD).toFixed(2)} D`,
      `${spec.axisDeg}°`,
      `${spec.lengthMm.toFixed(2)} mm`,
      order.specificationHash,
      'Dr Ilse Varga',
      'not a medical device',
    ])
      expect(text).toContain(words);
    expect(text).not.toContain('Zde');
    expect(text).not.toContain('RIGHT');
  });

  it('an order that nobody signed says so on paper', async () => {
    const draft = await sceneAt(house, 'draft');
    const { text } = await print(`/api/orders/${draft.orderId}/order-sheet.pdf`);
    expect(text).toContain('NOT SIGNED');
  });

  it('a theatre sheet says the eye in capitals, nose and temple, and where the axis is to lie', async () => {
    const { cast, clinic, caseId } = scene;
    await as(cast, clinic, 'coordinator', async (work) => {
      const { version } = await loadCase(work, caseId);
      await scheduleTheatre(work, caseId, { version, theatreOn: day(-3) });
    });
    const spec = await specificationOf(scene);
    const { text, pages } = await print(`/api/cases/${caseId}/theatre-sheet.pdf`);
    expect(pages).toBeLessThanOrEqual(2);
    for (const words of [
      'LEFT EYE',
      'Turn to make',
      'Cylinder axis in the eye',
      scene.unit!.serial,
      'Cautions',
    ])
      expect(text).toContain(words);
    expect(text).toContain(`${axisInPlace(spec.axisDeg, 0)}°`);
    // A left eye, seen from the front, has the nose on the left of the drawing.
    expect(text.indexOf('NOSE')).toBeLessThan(text.indexOf('TEMPLE'));
    expect(text).not.toContain('Zde');
  });

  it('a patient’s sheet tells this eye’s range in plain words, in two languages, on one page, without a name', async () => {
    const { cast, clinic, caseId } = scene;
    const plan = await as(cast, clinic, 'coordinator', ({ tx }) =>
      tx.plan.findFirstOrThrow({ where: { caseId }, orderBy: { number: 'desc' } }),
    );
    const { chosen } = plan.result as unknown as PlanRecord;
    const { p10, p90 } = chosen.sphericalEquivalentD;
    const tell = (value: number, mark: string): string =>
      `${Math.round(value * 100) < 0 ? '−' : Math.round(value * 100) > 0 ? '+' : ''}${Math.abs(value).toFixed(2).replace('.', mark)} D`;
    const english = await print(`/api/cases/${caseId}/patient-sheet.pdf`);
    const german = await print(`/api/cases/${caseId}/patient-sheet.pdf?language=de`);
    for (const { pages, text } of [english, german]) {
      expect(pages).toBe(1);
      expect(text).toContain('6/');
      expect(text).not.toContain('Zde');
      expect(text).not.toMatch(/\{|undefined|NaN/);
    }
    for (const words of [
      'LEFT EYE',
      `between ${tell(p10, '.')} and ${tell(p90, '.')}`,
      `about ${Math.round(10 * chosen.withinHalfD)} come to within half a dioptre`,
      'Some error is likely to remain',
      'one eye in ten loses a line',
      'without a published source',
    ])
      expect(english.text).toContain(words);
    for (const words of [
      'LINKES AUGE',
      `zwischen ${tell(p10, ',')} und ${tell(p90, ',')}`,
      'Was niemand versprechen kann',
    ])
      expect(german.text).toContain(words);
    const other = await coordinator.get(`/api/cases/${caseId}/patient-sheet.pdf?language=xx`);
    expect(other.status).toBe(400);
  });

  it('a patient’s sheet waits for a plan', async () => {
    const { caseId } = await openScene(house);
    expect(await coordinator.get(`/api/cases/${caseId}/patient-sheet.pdf`)).toMatchObject({
      status: 422,
      body: { code: 'document.no-plan' },
    });
  });

  it('an axis that is turned stays between 1 and 180', () => {
    expect([axisInPlace(175, 10), axisInPlace(5, -10), axisInPlace(180, 0), axisInPlace(null, 5)]).toEqual([
      5,
      175,
      180,
      null,
    ]);
  });

  it('a lens label carries a code that reads back as the lens', async () => {
    const { text } = await print(`/api/lenses/${scene.lensId}/label.pdf`);
    for (const words of ['LEFT EYE', scene.unit!.serial, 'expires']) expect(text).toContain(words);
    const spec = await specificationOf(scene);
    const { serial, lot, expiresOn, gtin, labelText } = scene.unit!;
    const { sphereD, cylinderD, axisDeg, lengthMm, caseCode } = spec;
    const lens = { eye: 'LEFT' as const, sphereD, cylinderD, axisDeg, lengthMm, caseCode };
    const { png } = await symbolOf({ gtin, serial, lot, expiresOn, labelText, lens });
    const wasm = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm');
    const wasmBinary = new Uint8Array(await readFile(wasm)).buffer;
    await prepareZXingModule({ overrides: { wasmBinary }, fireImmediately: true });
    const [symbol] = await readBarcodes(new Uint8Array(png), { textMode: 'Plain', tryHarder: true });
    const read = readLabel(`${symbol!.symbologyIdentifier}${symbol!.text}`, { today: day(0) });
    expect(read).toMatchObject({ gtin, serial, lot, expiresOn, lens });
  });

  it('a pick list names what is to be fetched for a week of theatre', async () => {
    const { text } = await print('/api/theatre/pick-list.pdf');
    for (const words of [scene.unit!.serial, 'LEFT EYE', 'shelf 1']) expect(text).toContain(words);
    const later = await print(`/api/theatre/pick-list.pdf?from=${day(-60)}`);
    expect(later.text).toContain('No lens is reserved');
  });

  it('an implant card holds what Article 18 names, with the name in its own letters, and the look is recorded', async () => {
    const refused = await coordinator.get(`/api/cases/${scene.caseId}/implant-card.pdf`);
    expect(refused).toMatchObject({ status: 422, body: { code: 'document.no-lens' } });
    await implant(scene);
    const path = `/api/cases/${scene.caseId}/implant-card.pdf`;
    const { text } = await print(path);
    // Regulation (EU) 2017/745, Article 18(1)(a): name, serial and lot number, UDI, model; maker's name, address and website.
    const { serial, lot, gtin } = scene.unit!;
    for (const words of [
      patient,
      'Tarn toric',
      serial,
      lot,
      `(01)${gtin}`,
      'QL-TARN',
      'Quillon',
      '4 Tarn Lane, Zurich',
      'https://quillon.example',
      'Expected lifetime',
      'Follow-up',
      'magnetic resonance',
    ])
      expect(text).toContain(words);
    expect((await house.signIn('oona').then((clerk) => clerk.get(path))).status).toBe(403);
    const auditor = await house.signIn('ivo');
    const { body } = await auditor.get<{ items: { action: string }[] }>(`/api/audit?perPage=5`);
    expect(body.items.map(({ action }) => action)).toContain('case.identity');
  });

  it('a return note and a device statement go to the maker without a name', async () => {
    const other = await playTo(await sceneAt(house, 'quarantined', { patient }), 'rejected');
    const { cast, clinic, lensId } = other;
    const returnId = await as(cast, clinic, 'inventory', async (work) => {
      const open = await work.tx.lensReturn.findFirst({ where: { lensId } });
      return open?.id ?? startReturn(work, lensId, { version: 1, reason: 'wrong_lens' });
    });
    const note = await print(`/api/returns/${returnId}/note.pdf`);
    for (const words of ['Return note', other.unit!.serial, 'wrong lens', 'NOT AUTHORISED YET', 'CHF'])
      expect(note.text).toContain(words);
    const statement = await print(`/api/orders/${other.orderId}/device-statement.pdf`);
    for (const words of [
      'custom-made device',
      'exclusive use',
      'local rules',
      (await specificationOf(other)).caseCode,
    ])
      expect(statement.text).toContain(words);
    for (const { text } of [note, statement]) expect(text).not.toContain('Zde');
  });

  it('another clinic’s papers are not there', async () => {
    const stranger = await house.signIn('nikos');
    for (const path of [
      `/api/orders/${scene.orderId}/order-sheet.pdf`,
      `/api/orders/${scene.orderId}/device-statement.pdf`,
      `/api/cases/${scene.caseId}/theatre-sheet.pdf`,
      `/api/cases/${scene.caseId}/patient-sheet.pdf`,
      `/api/lenses/${scene.lensId}/label.pdf`,
    ])
      expect((await stranger.get(path)).status, path).toBe(404);
  });
});
