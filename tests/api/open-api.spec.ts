import { as } from '../../apps/api/dist/demo/cast.js';
import { receiveLens } from '../../apps/api/dist/receiving/receive-lens.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { fromBase32, hotp, stepAt } from '../../apps/api/dist/people/totp.js';
import { makeAsk, type Ask, type Method, type Question, type Told } from '../support/ask.js';
import { day, eyeMeasurements } from '../support/eye.js';
import type { VaultModels } from '../../packages/contracts/src/index.js';
import { openHouse, password, until, type House, type Person } from '../support/house.js';
import { tellPasts, type Past } from '../support/pasts.js';
import { makerVoice } from '../support/maker-voice.js';
import { operationsOf, readOpenApi, routesOf, type ApiDocument } from '../support/open-api.js';
import {
  exchangeLens,
  failTelling,
  implant,
  orderOf,
  playTo,
  sceneAt,
  scenery,
  specificationOf,
} from '../support/scenes.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';

type Asked = Question & { params?: Record<string, string>; query?: string };
const target = { sphereD: 0, cylinderD: 0, axisDeg: null };
const why = 'The test asks for it.';

/** Asks by the document's own names and holds every answer against it. */
function asker(ask: Ask, { faultsOf, document }: ApiDocument) {
  const done = new Set<string>();
  const statuses = new Map<number, number>();
  const any = async (operation: string, { params = {}, query = '', ...question }: Asked): Promise<Told> => {
    const [method, path = ''] = operation.split(' ');
    const url = path.replaceAll(/\{(\w+)\}/g, (_, name: string) => params[name] ?? `{${name}}`);
    const told = await ask(method as Method, url + query, question);
    expect(faultsOf(operation, told), told.text.slice(0, 500)).toEqual([]);
    statuses.set(told.status, (statuses.get(told.status) ?? 0) + 1);
    return told;
  };
  return {
    done,
    statuses,
    /** A call that succeeds, with the status that the document promises. */
    call: async (operation: string, asked: Asked = {}) => {
      const told = await any(operation, asked);
      const [method = '', path = ''] = operation.split(' ');
      const promised = Object.keys(document.paths[path]?.[method.toLowerCase()]?.responses ?? {});
      expect(
        promised.filter((status) => status !== 'default'),
        told.text.slice(0, 500),
      ).toEqual([String(told.status)]);
      done.add(operation);
      return told.json;
    },
    /** A call that is refused with a status. */
    refused: async (operation: string, status: number, asked: Asked = {}) => {
      const told = await any(operation, asked);
      expect(told.status, told.text).toBe(status);
      expect(told.json).toMatchObject({ status, type: expect.any(String), title: expect.any(String) });
      return told.json;
    },
  };
}

describe('the OpenAPI document', () => {
  let house: House;
  let api: ApiDocument;
  let root: Superuser;
  let ask: Ask;
  let made: ReturnType<typeof asker>;
  const clock = new SetClock(new Date());
  let una: Person, ilse: Person, oona: Person, ivo: Person;
  let caseId = '';
  let orderId = '';
  let lensId = '';

  const signAll = async (): Promise<void> => {
    [una, ilse, oona, ivo] = (await Promise.all(
      ['una', 'ilse', 'oona', 'ivo'].map((name) => house.signIn(name)),
    )) as [Person, Person, Person, Person];
  };
  beforeAll(async () => {
    house = await openHouse({ clock });
    root = await asSuperuser(house.db);
    ask = makeAsk(house);
    api = await readOpenApi(house);
    made = asker(ask, api);
    await signAll();
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
  });

  const ofCase = () => ({ id: caseId });
  const ofOrder = () => ({ id: orderId });
  const caseNow = () => made.call('GET /api/cases/{id}', { as: una, params: ofCase() });
  const orderNow = () => made.call('GET /api/orders/{id}', { as: una, params: ofOrder() });
  const step = async (who: Person, name: string, body: object = {}) => {
    const { version } = await orderNow();
    return made.call(`POST /api/orders/{id}/${name}`, {
      as: who,
      params: ofOrder(),
      body: { version, ...body },
    });
  };
  const plan = async (maker: string) => {
    const preview = await made.call('POST /api/cases/{id}/plan-preview', {
      as: una,
      params: ofCase(),
      body: { target },
    });
    const option = preview.options.find((each: { makerName: string }) => each.makerName === maker);
    const { designVersionId, sphereD, cylinderD, axisDeg } = option;
    const { suggestedLengthMm } = preview.sizing.find(
      (each: { designVersionId: string }) => each.designVersionId === designVersionId,
    );
    const order = await made.call('POST /api/cases/{id}/plans', {
      as: una,
      params: ofCase(),
      body: { target, designVersionId, sphereD, cylinderD, axisDeg, lengthMm: suggestedLengthMm },
    });
    orderId = order.id;
  };
  const sign = async () => {
    const { specificationHash } = await orderNow();
    return step(ilse, 'sign', { specificationHash, password });
  };

  it('is OpenAPI 3.1, every schema and reference of it in order', async () => {
    const { document, ajv } = api;
    expect(document.openapi).toMatch(/^3\.1\.\d$/);
    expect(document).toMatchObject({ info: { title: 'Lensferry', version: expect.any(String) } });
    for (const name of Object.keys(document.components.schemas))
      expect(
        ajv.getSchema(`https://lensferry.example/openapi#/components/schemas/${name}`),
        name,
      ).toBeDefined();
    const references = [...JSON.stringify(document).matchAll(/"\$ref":"#\/components\/schemas\/(\w+)"/g)];
    expect(references.filter(([, name]) => !(name! in document.components.schemas))).toEqual([]);
    expect(JSON.stringify(document)).not.toContain('"nullable"');
    const ids = Object.values(document.paths).flatMap((path) =>
      Object.values(path).map(({ operationId }) => operationId),
    );
    expect(new Set(ids).size).toBe(ids.length);
    for (const [path, methods] of Object.entries(document.paths)) {
      const inPath = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name).sort();
      for (const [method, operation] of Object.entries(methods)) {
        const parameters = operation.parameters ?? [];
        const named = parameters.filter((parameter) => parameter.in === 'path').map(({ name }) => name);
        expect(named.sort(), `${method} ${path}`).toEqual(inPath);
        expect(operation.summary, `${method} ${path}`).toMatch(/\.$/);
        expect(Object.keys(operation.responses).length, `${method} ${path}`).toBeGreaterThan(0);
        const own = parameters.some(({ name }) => name === 'x-lensferry');
        expect(own, `${method} ${path}`).toBe(method !== 'get' && operation.security !== undefined);
      }
    }
  });

  it('names exactly the routes that the server has', () => {
    expect(routesOf(house)).toEqual(operationsOf(api.document));
    expect(routesOf(house).length).toBeGreaterThan(50);
  });

  it('tells the truth about the doors and the lists', async () => {
    await made.call('GET /health/live');
    await made.call('GET /health/ready');
    await made.call('GET /api/openapi.json');
    await made.call('POST /api/session', { body: { email: 'una@lensferry.example', password } });
    await made.call('GET /api/session', { as: una });
    await made.call('GET /api/people', { as: una });
    const { items } = await made.call('GET /api/makers', { as: una });
    await made.call('GET /api/makers/{id}', { as: una, params: { id: items[0].id } });
    await made.call('GET /api/makers/{id}/lead-times', { as: una, params: { id: items[0].id } });
    const leaving = await house.signIn('una');
    await made.call('DELETE /api/session', { as: leaving });
    await made.refused('GET /api/session', 401, { as: leaving });
  });

  it('tells the truth from a case to an order', async () => {
    const clinic = house.network.clinics.find(({ code }) => code === 'EST')!;
    const opened = await made.call('POST /api/cases', {
      as: una,
      body: {
        clinicId: clinic.id,
        codeName: 'Document 1',
        birthYear: 1994,
        identity: { name: 'Test Person', birthDate: '1994-02-03', recordNumber: 'T-1' },
        eye: 'OD',
        surgeonId: clinic.staff.surgeon.personId,
      },
    });
    caseId = opened.id;
    await made.call('GET /api/cases/{id}/identity', { as: una, params: ofCase() });
    for (const body of eyeMeasurements())
      await made.call('POST /api/cases/{id}/measurements', { as: una, params: ofCase(), body });
    const { measurements } = await caseNow();
    const chamber = measurements.find(({ kind }: { kind: string }) => kind === 'chamber');
    await made.call('POST /api/cases/{id}/measurements/{measurementId}/correction', {
      as: una,
      params: { id: caseId, measurementId: chamber.id },
      body: {
        measurement: {
          kind: 'chamber',
          takenOn: day(10),
          device: 'OCT',
          values: { depthMm: 3.61, from: 'epithelium', cornealThicknessUm: 480 },
        },
        why,
      },
    });
    await plan('Fennick Bench');
    const { version } = await caseNow();
    await made.call('POST /api/cases/{id}/theatre-date', {
      as: una,
      params: ofCase(),
      body: { version, theatreOn: day(-60) },
    });
    await step(una, 'submit');
    await step(ilse, 'request-changes', { why });
    await plan('Fennick Bench');
    await step(una, 'submit');
    await sign();
  });

  it('tells the truth of a maker by hand, until the lens is in the eye', async () => {
    await step(una, 'place');
    await made.call('GET /api/orders/{id}/document', { as: una, params: ofOrder() });
    await step(una, 'deliver');
    await step(una, 'acknowledge', { promisedOn: day(-30) });
    await step(una, 'promise', { promisedOn: day(-33), why });
    await step(una, 'ship', { tracking: 'PARCEL 1', expectedOn: day(-2) });
    const { sphereD, cylinderD, axisDeg, lengthMm, caseCode, eye } = (await orderNow()).specification;
    const pack = { text: 'FENN1', serial: 'FENN1', expiresOn: day(-900), lot: 'A1' };
    const label = { ...pack, eye, sphereD, cylinderD, axisDeg, lengthMm, caseCode };
    const read = await made.call('POST /api/arrivals/read', { as: oona, body: { label } });
    expect(read).toMatchObject({ verdict: 'match', order: { id: orderId } });
    await made.call('POST /api/orders/{id}/receive', {
      as: oona,
      params: ofOrder(),
      body: { label, outcome: 'accept', location: 'shelf 1' },
    });
    const here = await caseNow();
    lensId = here.lenses[0].id;
    await made.call('GET /api/lenses/{id}', { as: oona, params: { id: lensId } });
    await made.call('POST /api/cases/{id}/implantation', {
      as: ilse,
      params: ofCase(),
      body: { version: here.version, lensId, serial: 'FENN1', performedOn: day(0), axisDeg: 30 },
    });
  });

  it('tells the truth of an exchange that is given up, and of a case that is closed', async () => {
    clock.set(new Date(Date.now() + 3 * 86_400_000));
    await signAll();
    for (const body of [
      { kind: 'vault', takenOn: day(-2), device: 'OCT', values: { vaultUm: 1150, lighting: 'bright' } },
      { kind: 'lens_axis', takenOn: day(-2), device: 'slit lamp', values: { axisDeg: 38 } },
      {
        kind: 'refraction',
        takenOn: day(-2),
        device: 'phoropter',
        values: { sphereD: 0.5, cylinderD: -1, axisDeg: 170, vertexMm: 12, correctedDecimal: 0.8 },
      },
    ])
      await made.call('POST /api/cases/{id}/measurements', { as: una, params: ofCase(), body });
    const seen = await caseNow();
    expect(seen).toMatchObject({ proposal: expect.any(Object), rotation: expect.any(Object) });
    await made.call('POST /api/cases/{id}/exchange', {
      as: ilse,
      params: ofCase(),
      body: { version: seen.version, reason: 'vault_high', note: why },
    });
    const end = async (name: string) =>
      made.call(`POST /api/cases/{id}/${name}`, {
        as: ilse,
        params: ofCase(),
        body: { version: (await caseNow()).version, why },
      });
    await end('exchange/end');
    await end('close');
    clock.set(new Date());
    await signAll();
  });

  it('tells the truth of orders that go wrong', async () => {
    const failed = await sceneAt(house, 'send_failed');
    orderId = failed.orderId;
    await step(una, 'retry');
    orderId = (await sceneAt(house, 'sent', { maker: 'FENNICK' })).orderId;
    await step(una, 'decline', { why });
    const given = await sceneAt(house, 'draft');
    ({ orderId, caseId } = given);
    await step(una, 'cancel', { why });
    await made.call('POST /api/cases/{id}/withdraw', {
      as: una,
      params: ofCase(),
      body: { version: (await caseNow()).version, why },
    });
  });

  it('tells the truth of lenses in quarantine and on their way back', async () => {
    const quarantined = async () => {
      const scene = await sceneAt(house, 'quarantined');
      return { as: oona, params: { id: scene.lensId }, body: { version: 1, why } };
    };
    const half = await sceneAt(house, 'shipped');
    const { serial, expiresOn, lengthMm } = await scenery.packOf(half);
    const id = await as(half.cast, half.clinic, 'inventory', (work) =>
      receiveLens(work, half.orderId, {
        label: { text: '', serial, expiresOn },
        outcome: 'quarantine',
        location: 'apart',
        why,
      }),
    );
    await made.call('POST /api/lenses/{id}/read', {
      as: oona,
      params: { id },
      body: { version: 1, serial, lengthMm },
    });
    const released = await quarantined();
    await made.call('POST /api/lenses/{id}/release', { ...released, as: ilse });
    await made.call('POST /api/lenses/{id}/reject', await quarantined());
    const discarded = await quarantined();
    await made.call('POST /api/lenses/{id}/reject', { ...discarded, as: ilse });
    await made.call('POST /api/lenses/{id}/discard', discarded);
    const back = await quarantined();
    await made.call('POST /api/lenses/{id}/reject', { ...back, as: ilse });
    let sent = await made.call('POST /api/lenses/{id}/return', {
      as: oona,
      params: back.params,
      body: { version: 1, reason: 'wrong_lens' },
    });
    for (const [name, body] of [
      ['authorise', { authorisation: 'RA-1' }],
      ['hand-over', { tracking: 'BACK 1' }],
      ['receive', {}],
      ['credit', { amount: '1480.00' }],
    ] as const)
      sent = await made.call(`POST /api/returns/{id}/${name}`, {
        as: oona,
        params: { id: sent.id },
        body: { version: sent.version, ...body },
      });
    const lost = await quarantined();
    await made.call('POST /api/lenses/{id}/reject', lost);
    const { returnId } = await made.call('GET /api/lenses/{id}', { as: oona, params: lost.params });
    await failTelling(half, 'return', 'The maker answered 410.', returnId);
    const again = { as: oona, params: { id: returnId } };
    const failed = await made.call('GET /api/returns/{id}', again);
    const sentAgain = await made.call('POST /api/returns/{id}/tell-again', {
      ...again,
      body: { version: failed.version },
    });
    await failTelling(half, 'return', 'The maker answered 410.', returnId);
    const { version } = await made.call('POST /api/returns/{id}/told', {
      ...again,
      body: { version: sentAgain.version, how: why },
    });
    await made.call('POST /api/returns/{id}/write-off', {
      as: oona,
      params: { id: returnId },
      body: { version, why },
    });
  });

  it('tells the truth of what stands on the shelf, and of parcels that nobody expected', async () => {
    const scene = await sceneAt(house, 'accepted');
    const lens = { as: oona, params: { id: scene.lensId } };
    let { version } = await made.call('POST /api/lenses/{id}/owner', {
      ...lens,
      body: { version: 2, owner: 'consignment', why },
    });
    ({ version } = await made.call('POST /api/lenses/{id}/unreserve', { ...lens, body: { version, why } }));
    await made.call('GET /api/orders/{id}/fitting-lenses', { as: oona, params: { id: scene.orderId } });
    await made.call('POST /api/lenses/{id}/reserve', {
      ...lens,
      body: { version, orderId: scene.orderId, why },
    });
    for (const [name, more] of [
      ['match', { orderId: scene.orderId }],
      ['send-back', {}],
      ['hand-over', {}],
    ] as const) {
      const kept = await made.call('POST /api/parcels', {
        as: oona,
        body: {
          clinicId: scene.clinic.id,
          label: { text: '', serial: 'STRAY 1' },
          location: 'apart',
          note: why,
        },
      });
      await made.call('GET /api/parcels/{id}', { as: oona, params: { id: kept.id } });
      await made.call('GET /api/parcels', { as: oona });
      await made.call('GET /api/today', { as: oona });
      await made.call(`POST /api/parcels/{id}/${name}`, {
        as: oona,
        params: { id: kept.id },
        body: { version: 1, why, ...more },
      });
    }
  });

  it('tells the truth of lenses between clinics', async () => {
    const piet = await house.signIn('piet');
    const { clinic: taker } = await sceneAt(house, 'draft', { clinic: 'NOR' });
    for (const way of [
      ['decline'],
      ['withdraw'],
      ['accept', 'send', 'receive'],
      ['accept', 'send', 'refuse', 'take-back'],
      ['accept', 'send', 'lose'],
    ] as const) {
      const given = await sceneAt(house, 'accepted');
      const { orderId } = await sceneAt(house, 'approved', { clinic: 'NOR' });
      const lens = { as: oona, params: { id: given.lensId } };
      await made.call('POST /api/lenses/{id}/unreserve', { ...lens, body: { version: 2, why } });
      const offered = await made.call('POST /api/lenses/{id}/offer', {
        ...lens,
        body: { version: 3, why, toClinicId: taker.id },
      });
      const { id } = offered;
      let { version } = offered;
      const bodies = {
        accept: { orderId },
        send: { tracking: 'BOX 1' },
        receive: { label: await scenery.packOf(given), location: 'shelf 1' },
        'take-back': { location: 'shelf 1', why },
      };
      for (const name of way) {
        const who = ['withdraw', 'send', 'take-back', 'lose'].includes(name) ? oona : piet;
        await made.call('GET /api/transfers', { as: who });
        await made.call('GET /api/transfers/{id}', { as: who, params: { id } });
        await made.call('GET /api/orders/{id}/fitting-lenses', { as: piet, params: { id: orderId } });
        await made.call('GET /api/today', { as: who });
        ({ version } = await made.call(`POST /api/transfers/{id}/${name}`, {
          as: who,
          params: { id },
          body: { version, ...((bodies as Record<string, object>)[name] ?? { why }) },
        }));
      }
    }
  });

  it('tells the truth of what really stands on a shelf', async () => {
    const { clinic } = await sceneAt(house, 'accepted');
    const begin = (location: string) =>
      made.call('POST /api/stock-counts', { as: oona, body: { clinicId: clinic.id, location } });
    const { id } = await begin('a bare shelf');
    const count = { as: oona, params: { id } };
    await made.call('GET /api/stock-counts', { as: oona });
    await made.call('POST /api/stock-counts/{id}/readings', { ...count, body: { text: 'STRAY9' } });
    const { version, findings } = await made.call('GET /api/stock-counts/{id}', count);
    expect(findings.map(({ kind }: { kind: string }) => kind)).toEqual(['unexpected']);
    await made.call('GET /api/today', { as: oona });
    await made.call('POST /api/stock-counts/{id}/close', {
      ...count,
      body: { version, explanations: [{ serial: 'STRAY9', explanation: 'noted', why }] },
    });
    const other = await begin('another');
    await made.call('POST /api/stock-counts/{id}/give-up', {
      as: oona,
      params: { id: other.id },
      body: { version: other.version, why },
    });
  });

  it('tells the truth of a clinic that joins', async () => {
    const ada = await house.signIn('ada');
    await made.call('GET /api/clinics', { as: oona });
    await made.call('POST /api/clinics', {
      as: ada,
      body: { code: 'VAL', name: 'Vale Eye House', timeZone: 'Europe/Lisbon' },
    });
  });

  it('tells the truth of what a maker says', async () => {
    const scene = await sceneAt(house, 'sent');
    const { number } = await orderOf(scene);
    const { eye, designCode, designVersion, sphereD, cylinderD, axisDeg, lengthMm } =
      await specificationOf(scene);
    const say = await makerVoice(house, root, ask, 'QUILLON');
    const told = await say({
      type: 'order.acknowledged',
      sentAt: new Date().toISOString(),
      orderNumber: number,
      echo: {
        eye: eye === 'OD' ? 'RIGHT' : 'LEFT',
        lens: { designCode, designVersion, sphereD, cylinderD, axisDeg, lengthMm },
      },
      promisedOn: day(-20),
    });
    expect(told.json).toEqual({ applied: true });
    expect(api.faultsOf('POST /api/maker-messages/{code}', told)).toEqual([]);
    made.done.add('POST /api/maker-messages/{code}');
  });

  it('tells the truth of orders that are to be cancelled', async () => {
    for (const [name, more] of [
      ['accept-cancel', {}],
      ['refuse-cancel', { why }],
    ] as const) {
      orderId = (await sceneAt(house, 'acknowledged')).orderId;
      await step(una, 'ask-cancel', { why });
      await made.call('GET /api/today', { as: una });
      await step(una, name, more);
    }
  });

  it('tells the truth of a maker whose terms change', async () => {
    const ada = await house.signIn('ada');
    const { id } = house.network.makers[0]!;
    const maker = await made.call('GET /api/makers/{id}', { as: ada, params: { id } });
    const { version, contact, currency, returnWindowDays, timeZone, cutOff, holidays, terms } = maker;
    const body = { version, contact, currency, returnWindowDays, timeZone, cutOff, holidays, terms };
    await made.call('POST /api/makers/{id}/edit', { as: ada, params: { id }, body });
    const design = { as: ada, params: { id, code: 'QL-TARN' } };
    await made.call('GET /api/makers/{id}/designs/{code}/sheet.csv', design);
    const { text } = await ask('GET', `/api/makers/${id}/designs/QL-TARN/sheet.csv`, { as: ada });
    const file = text.replace('price,CHF,1480.00', 'price,CHF,1495.00');
    const sheetPath = 'POST /api/makers/{id}/designs/{code}/sheet';
    const preview = await made.call(`${sheetPath}-preview`, { ...design, body: { file } });
    expect(preview.differences).toHaveLength(1);
    const wanted = { file, newest: preview.newest, validFrom: day(-300) };
    await made.call(sheetPath, { ...design, body: wanted });
    await made.refused(sheetPath, 409, { ...design, body: wanted });
    const added = await made.call('POST /api/makers', {
      as: ada,
      body: {
        ...{ code: 'TIDEWAY', name: 'Tideway Optics', channel: 'https', endpoint: 'https://tideway.example' },
        ...{
          orderEmail: null,
          sendsPerMinute: 30,
          contact,
          currency,
          returnWindowDays,
          timeZone,
          cutOff,
          holidays,
          terms,
        },
      },
    });
    const ofNew = { as: ada, params: { id: added.id } };
    await made.call('POST /api/makers/{id}/secret', { ...ofNew, body: { version: added.version } });
    await made.call('POST /api/makers/{id}/reach', {
      ...ofNew,
      body: {
        ...{ version: added.version + 1, channel: 'by_hand', endpoint: null, orderEmail: null },
        sendsPerMinute: 60,
      },
    });
    const newFile = 'GET /api/makers/{id}/new-design.csv';
    await made.call(newFile, { ...ofNew, query: '?code=TW-ONE' });
    const filled = await ask('GET', `/api/makers/${added.id}/new-design.csv?code=TW-ONE`, { as: ada });
    await made.call('POST /api/makers/{id}/designs', {
      ...ofNew,
      body: { code: 'TW-ONE', name: 'One', file: filled.text, validFrom: day(0) },
    });
    await made.call('GET /api/limits', { as: ada });
    await made.call('POST /api/limits', {
      as: ilse,
      body: { key: 'ageAtLeast', was: 21, value: 22, why: 'As the network agreed.', password },
    });
    const visitDays = [1, 7, 30, 91, 182, 365];
    await made.call('POST /api/outcomes/visit-schedule', {
      as: ada,
      body: { was: visitDays, visitDays, why: 'The network keeps its visits.' },
    });
  });

  it('tells the truth of an explanted lens that is considered for a report', async () => {
    const scene = await sceneAt(house, 'accepted');
    // This house's clock stands still; what was measured has to come before the operation.
    clock.set(new Date());
    await implant(scene);
    await exchangeLens(scene);
    const params = { id: scene.caseId };
    const { implantations } = await made.call('GET /api/cases/{id}', { as: ilse, params });
    await made.call('GET /api/today', { as: ilse });
    const out = implantations.find(({ explantedOn }: { explantedOn: string | null }) => explantedOn !== null);
    const body = { implantationId: out.id, decision: 'reported', reference: 'V-17', why };
    await made.call('POST /api/cases/{id}/considered-event', { as: ilse, params, body });
    await made.refused('POST /api/cases/{id}/considered-event', 409, { as: ilse, params, body });
  });

  it('tells the truth about the schemas for makers', async () => {
    const { names } = await made.call('GET /api/maker-schemas');
    for (const name of names) await made.call('GET /api/maker-schemas/{name}', { params: { name } });
  });

  it('tells the truth of orders that are to be changed', async () => {
    const proposed = await sceneAt(house, 'change_proposed');
    orderId = proposed.orderId;
    const { change, stops } = await made.call('GET /api/orders/{id}', { as: una, params: { id: orderId } });
    const reasons = Object.fromEntries(stops.map(({ code }: { code: string }) => [code, why]));
    await made.call('GET /api/today', { as: una });
    await step(ilse, 'sign-change', { specificationHash: change.specificationHash, password, reasons });
    await made.call('GET /api/today', { as: una });
    await step(una, 'refuse-change', { why });
    orderId = (await sceneAt(house, 'change_proposed')).orderId;
    await step(una, 'withdraw-change', {});
    orderId = (await sceneAt(house, 'change_requested')).orderId;
    await step(una, 'refuse-change', { why });
    await step(una, 'ask-change', {});
    await step(una, 'accept-change', { promisedOn: day(-40) });
  });

  it('tells the truth of makers that a person has to tell', async () => {
    const byHand = await sceneAt(house, 'cancel_requested', { maker: 'FENNICK' });
    orderId = byHand.orderId;
    await made.call('GET /api/today', { as: una });
    await step(una, 'told', { how: why });
    const failed = await sceneAt(house, 'change_requested');
    await failTelling(failed, 'change', 'The maker answered 410.');
    orderId = failed.orderId;
    await step(una, 'tell-again', {});
    const { version } = await made.call('GET /api/orders/{id}', { as: una, params: { id: orderId } });
    await made.call('POST /api/orders/inquiries', {
      as: una,
      body: { orders: [{ id: orderId, version }] },
    });
  });

  it('tells the truth about papers', async () => {
    const scene = await sceneAt(house, 'accepted');
    const recalled = await made.call('GET /api/recall', { as: una, query: '?designCode=QL-TARN' });
    expect(recalled.lenses.length).toBeGreaterThan(0);
    const [as, params] = [una, { id: scene.orderId }];
    await made.call('GET /api/orders/{id}/order-sheet.pdf', { as, params });
    await made.call('GET /api/orders/{id}/to-maker.pdf', { as, params });
    await made.call('GET /api/orders/{id}/device-statement.pdf', { as, params });
    await made.call('GET /api/cases/{id}/theatre-sheet.pdf', { as, params: { id: scene.caseId } });
    const sheet = { as, params: { id: scene.caseId }, query: '?language=de' };
    await made.call('GET /api/cases/{id}/patient-sheet.pdf', sheet);
    await made.refused('GET /api/cases/{id}/implant-card.pdf', 422, { as, params: { id: scene.caseId } });
    await implant(scene);
    await made.call('GET /api/cases/{id}/implant-card.pdf', { as, params: { id: scene.caseId } });
    for (const query of ['', '?identity=false', '?identity=true'])
      await made.call('GET /api/cases/{id}/fhir', { as, params: { id: scene.caseId }, query });
    await made.call('GET /api/cases/{id}/offset', { as, params: { id: scene.caseId } });
    await made.call('GET /api/cases/{id}/subject-export', { as, params: { id: scene.caseId } });
    await made.call('GET /api/cases/{id}/subject-export.pdf', { as, params: { id: scene.caseId } });
    const clinic = house.network.clinics.find(({ code }) => code === 'EST')!;
    const { id } = await made.call('POST /api/cases', {
      as,
      body: {
        clinicId: clinic.id,
        codeName: 'Erased 1',
        birthYear: 1994,
        identity: { name: 'Test Person', birthDate: '1994-02-03', recordNumber: 'T-2' },
        eye: 'OS',
        surgeonId: clinic.staff.surgeon.personId,
      },
    });
    const erase = { as: await house.signIn('ada'), params: { id }, body: { password, why } };
    await made.call('POST /api/cases/{id}/erase-identity', erase);
    await made.call('GET /api/lenses/{id}/label.pdf', { as, params: { id: scene.lensId } });
    await made.call('GET /api/theatre/pick-list.pdf', { as, query: '?from=2026-12-01' });
    await made.refused('GET /api/theatre/pick-list.pdf', 400, { as, query: '?from=soon' });
    const { items } = await made.call('GET /api/returns', { as });
    await made.call('GET /api/returns/{id}/note.pdf', { as, params: { id: items[0].id } });
  });

  it('tells the truth in lists that are full by now', async () => {
    for (const { id } of house.network.makers)
      await made.call('GET /api/makers/{id}/lead-times', { as: una, params: { id } });
    for (const list of ['cases', 'orders', 'lenses', 'returns'])
      for (const query of ['', '?sort=due', '?sort=code', '?q=scene&perPage=3'])
        expect((await made.call(`GET /api/${list}`, { as: una, query })).total, list).toBeTypeOf('number');
    const { counts } = await made.call('GET /api/today', { as: una });
    expect(Object.values(counts as Record<string, number>).reduce((a, b) => a + b)).toBeGreaterThan(3);
    for (const q of ['scene', 'EST-', 'LE-', 'RE-', 'QUIL'])
      expect((await made.call('GET /api/search', { as: una, query: `?q=${q}` })).items, q).not.toEqual([]);
    await made.call('GET /api/audit', { as: ivo, query: '?perPage=200' });
    await made.call('GET /api/makers', { as: una });
  });

  it('tells the truth in everything that can be asked without naming a thing', async () => {
    const ada = await house.signIn('ada');
    for (const operation of operationsOf(api.document)) {
      const [method = '', path = ''] = operation.split(' ');
      const { parameters = [] } = api.document.paths[path]![method.toLowerCase()]!;
      if (method !== 'GET' || path.includes('{') || path === '/api/events') continue;
      const needed = parameters
        .filter(({ required }) => required)
        .map(({ name, schema }) => `${name}=${(schema['enum'] as string[] | undefined)?.[0] ?? 'scene'}`);
      await made.call(operation, {
        as: ['/api/audit', '/api/ledger', '/api/ledger/balances', '/api/ledger.csv'].includes(path)
          ? ivo
          : path === '/api/invitations'
            ? ada
            : ilse,
        query: needed.length > 0 ? `?${needed.join('&')}` : '',
      });
    }
  });

  it('tells the truth of every kind of refusal', async () => {
    const { version } = await orderNow();
    const submit = { as: una, params: ofOrder(), body: { version } };
    await made.refused('POST /api/orders/{id}/submit', 400, { ...submit, body: { version: 'x' } });
    await made.refused('POST /api/orders/{id}/submit', 401, { ...submit, as: null });
    await made.refused('GET /api/cases/{id}/identity', 403, { as: oona, params: ofCase() });
    await made.refused('GET /api/orders/{id}', 404, {
      as: una,
      params: { id: '00000000-0000-4000-8000-000000000000' },
    });
    await made.refused('POST /api/orders/{id}/submit', 409, { ...submit, body: { version: 99 } });
    const empty = await made.call('POST /api/cases', {
      as: una,
      body: {
        clinicId: house.network.clinics[0]!.id,
        codeName: 'Document 2',
        birthYear: 1990,
        eye: 'OS',
        surgeonId: house.network.clinics[0]!.staff.surgeon.personId,
      },
    });
    await made.refused('POST /api/cases/{id}/plan-preview', 422, {
      as: una,
      params: { id: empty.id },
      body: {},
    });
    await made.refused('POST /api/orders/{id}/submit', 413, {
      ...submit,
      body: undefined,
      raw: ' '.repeat(1_100_000),
    });
    await made.refused('POST /api/orders/{id}/submit', 415, {
      ...submit,
      headers: { 'content-type': 'application/xml' },
    });
    const lost = { email: 'nobody@lensferry.example', password: 'x' };
    for (let time = 0; time < 5; time += 1) await made.refused('POST /api/session', 401, { body: lost });
    await made.refused('POST /api/session', 429, { body: lost });
    const queued = await sceneAt(house, 'queued');
    const say = await makerVoice(house, root, ask, 'QUILLON');
    const early = await say({
      type: 'order.declined',
      sentAt: new Date().toISOString(),
      orderNumber: (await orderOf(queued)).number,
      reason: why,
    });
    expect(early.status).toBe(503);
    expect(api.faultsOf('POST /api/maker-messages/{code}', early)).toEqual([]);
  });

  it('tells the truth of live updates', async () => {
    await house.app.listen(0, '127.0.0.1');
    const { port } = house.app.getHttpServer().address() as { port: number };
    const leaving = new AbortController();
    const stream = await fetch(`http://127.0.0.1:${port}/api/events`, {
      headers: { cookie: una.cookie },
      signal: leaving.signal,
    });
    expect(stream.status).toBe(200);
    expect(stream.headers.get('content-type')).toBe('text/event-stream; charset=utf-8');
    expect(stream.headers.get('cache-control')).toBe('no-store');
    expect(api.document.paths['/api/events']!['get']!.responses['200']!.content).toHaveProperty([
      'text/event-stream',
    ]);
    let text = '';
    const reading = (async () => {
      for await (const chunk of stream.body!.pipeThrough(new TextDecoderStream())) text += chunk;
    })().catch(() => undefined);
    await until(async () => {
      // Each look is recorded, so each moves something; the first may come before the server listens.
      await made.call('GET /api/cases/{id}/identity', { as: una, params: ofCase() });
      return text.includes('event: moved');
    }, 'an event');
    const data = /event: moved\ndata: (.+)\n\n/.exec(text)?.[1] ?? '';
    expect(JSON.parse(data)).toEqual({ caseId, orderId: null, action: 'case.identity' });
    made.done.add('GET /api/events');
    leaving.abort();
    await reading;
  });

  it('is true of accounts, sessions and invitations', async () => {
    const ada = await house.signIn('ada');
    const clinicIds = [house.network.clinics[0]!.id];
    const fresh = 'violet harbour sings';
    const invite = { name: 'Nela Brook', email: 'nela@lensferry.example', role: 'inventory', clinicIds };
    const made1 = await made.call('POST /api/invitations', { as: ada, body: invite });
    await made.call('GET /api/invitations', { as: ada });
    await made.call('DELETE /api/invitations/{id}', { as: ada, params: { id: made1.invitation.id } });
    const { path } = await made.call('POST /api/invitations', { as: ada, body: invite });
    const token = path.slice('/#join='.length);
    await made.call('POST /api/invitations/look', { body: { token } });
    await made.call('POST /api/invitations/accept', { body: { token, newPassword: fresh } });
    await made.refused('POST /api/invitations/accept', 404, { body: { token, newPassword: fresh } });
    const people = (await made.call('GET /api/people', { as: ada })).items as { id: string; email: string }[];
    const params = { id: people.find(({ email }) => email === invite.email)!.id };
    const body = { why };
    await made.call('GET /api/people/{id}/sessions', { as: ada, params });
    for (const step of ['end-sessions', 'reset-second-factor', 'renew-password', 'deactivate', 'reactivate'])
      await made.call(`POST /api/people/{id}/${step}`, { as: ada, params, body });
    await made.call('POST /api/people/{id}/place', {
      as: ada,
      params,
      body: { ...body, role: 'auditor', clinicIds },
    });
    const own = await house.signIn('oona');
    const { secret } = await made.call('POST /api/account/second-factor', { as: own, body: { password } });
    const code = hotp(fromBase32(secret), stepAt(clock.now()));
    await made.refused('POST /api/account/second-factor/confirm', 400, { as: own, body: { code: '000000' } });
    await made.call('POST /api/account/second-factor/confirm', { as: own, body: { code } });
    await made.call('POST /api/account/second-factor/remove', { as: own, body: { password } });
    await made.call('POST /api/account/password', { as: own, body: { password, newPassword: fresh } });
    const { items } = await made.call('GET /api/account/sessions', { as: own });
    await made.call('DELETE /api/account/sessions/{id}', { as: own, params: { id: items[0].id } });
  });

  it('tells the truth of a vault model that is learned and signed', async () => {
    const pasts = [0, 1, 2, 3, 4, 5, 6].map((i): Past => ['closed', 'EST', 'FENNICK', 500 + i * 15]);
    await tellPasts(house, clock, pasts, 91);
    const [ada, surgeon] = await Promise.all([house.signIn('ada'), house.signIn('ilse')]);
    const named = ({ items }: VaultModels) => items.find(({ designCode }) => designCode === 'FB-ONE')!;
    const { version } = named(await made.call('GET /api/outcomes/models', { as: ada }));
    const body = { designCode: 'FB-ONE', kind: 'learned', version, why };
    const { open } = named(await made.call('POST /api/outcomes/models/proposals', { as: ada, body }));
    await made.call('POST /api/outcomes/models/proposals/{id}/sign', {
      as: surgeon,
      params: { id: open!.id },
      body: { password },
    });
  });

  it('was called in whole: no route is left that no test calls', () => {
    expect([...made.done].sort()).toEqual(operationsOf(api.document));
    console.log(
      `OpenAPI: ${made.done.size} operations called and checked, answers by status ${JSON.stringify(Object.fromEntries([...made.statuses].sort()))}`,
    );
  });
});

describe('the OpenAPI document while orders are really sent', () => {
  let house: House;
  beforeAll(async () => {
    house = await openHouse({ dispatching: true });
  });
  afterAll(() => house?.close());

  it('is true of an order in every state that the dispatch and its maker bring it to', async () => {
    const api = await readOpenApi(house);
    const made = asker(makeAsk(house), api);
    const una = await house.signIn('una');
    const scene = await playTo(await sceneAt(house, 'approved'), 'approved');
    await scenery.place(scene);
    const states = new Set<string>();
    await until(async () => {
      const order = await made.call('GET /api/orders/{id}', { as: una, params: { id: scene.orderId } });
      states.add(order.state);
      return order.state === 'shipped' && order.announcedUnit !== null;
    }, 'the shipping notice');
    for (const path of ['GET /api/orders', 'GET /api/today', 'GET /api/makers', 'GET /api/cases'])
      await made.call(path, { as: una });
    await made.call('GET /api/cases/{id}', { as: una, params: { id: scene.caseId } });
    expect(states).toContain('shipped');
  });
});
