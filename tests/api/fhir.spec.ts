import { Fhir } from 'fhir';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addMeasurement } from '../../apps/api/dist/cases/measure.js';
import { loadCase } from '../../apps/api/dist/cases/cases.store.js';
import { openExchange } from '../../apps/api/dist/exchanges/open-exchange.js';
import { day } from '../support/eye.js';
import { faultsOf, schemaOf } from '../support/fhir-judges.js';
import { openHouse, type House } from '../support/house.js';
import {
  as,
  implant,
  orderOf,
  playTo,
  sceneAt,
  scenery,
  specificationOf,
  type Scene,
} from '../support/scenes.js';

const patient = 'Zdeňka Şükrüoğlu-Łoś';

interface Quantity {
  value: number;
  system: string;
  code: string;
}
interface Found {
  resourceType: string;
  id: string;
  status?: string;
  bodySite?: { text: string };
  valueQuantity?: Quantity;
  component?: { valueQuantity?: Quantity; code: { text: string } }[];
  code?: { text: string };
  [field: string]: unknown;
}
interface Bundle {
  resourceType: string;
  type: string;
  entry: { fullUrl: string; resource: Found }[];
}

describe('a case as a FHIR R4 bundle', () => {
  let house: House;
  let scene: Scene;
  let bundle: Bundle;
  let text: string;
  const serials: string[] = [];
  const ask = async (name: string, query = '', caseId = scene.caseId) => {
    const { cookie } = await house.signIn(name);
    return house.app.inject({ url: `/api/cases/${caseId}/fhir${query}`, headers: { cookie } });
  };
  const all = (type: string): Found[] =>
    bundle.entry.map(({ resource }) => resource).filter(({ resourceType }) => resourceType === type);
  const lensAsText = (device: Found): string => JSON.stringify(device);

  beforeAll(async () => {
    house = await openHouse();
    scene = await sceneAt(house, 'accepted', { patient, eye: 'OS' });
    await implant(scene);
    serials.push(scene.unit!.serial);
    const { cast, clinic, caseId } = scene;
    await as(cast, clinic, 'surgeon', async (work) => {
      for (const [kind, values] of [
        ['vault', { vaultUm: 1150, lighting: 'bright' }],
        ['lens_axis', { axisDeg: 33 }],
        ['lens_wear', { wears: 'scleral', acuityDecimal: 0.7 }],
      ] as const)
        await addMeasurement(work, caseId, { kind, takenOn: day(0), device: 'OCT', values } as never);
    });
    await as(cast, clinic, 'surgeon', async (work) => {
      const { version } = await loadCase(work, caseId);
      const note = `The angle of ${patient} narrows.`;
      await openExchange(work, caseId, { version, reason: 'vault_high', note });
    });
    await scenery.plan(scene);
    await playTo(scene, 'accepted');
    await implant(scene);
    serials.push(scene.unit!.serial);
    const answer = await ask('una');
    expect(answer.statusCode, answer.payload.slice(0, 300)).toBe(200);
    expect(answer.headers['content-type']).toBe('application/fhir+json');
    text = answer.payload;
    bundle = JSON.parse(text) as Bundle;
  });
  afterAll(() => house?.close());

  it('is valid by two validators that know nothing of each other', () => {
    expect(faultsOf(bundle)).toEqual([]);
    // Both do look: a device that is wrong is refused by each.
    const wrong = { resourceType: 'Device', status: 7 };
    expect(new Fhir().validate(wrong as never, { errorOnUnexpected: true }).valid).toBe(false);
    expect(schemaOf('Device').safeParse(wrong).success).toBe(false);
  });

  it('refers to nothing that is not in it, and holds nothing twice', () => {
    const urls = bundle.entry.map(({ fullUrl }) => fullUrl);
    expect(new Set(urls).size).toBe(urls.length);
    const references = [...text.matchAll(/"reference":"([^"]+)"/g)].map(([, url]) => url);
    expect(references.length).toBeGreaterThan(urls.length);
    expect(references.filter((url) => !urls.includes(url!))).toEqual([]);
  });

  it('tells both lenses of the exchange and both operations, in the eye', async () => {
    const { number } = await orderOf(scene);
    const { axisDeg, lengthMm } = await specificationOf(scene);
    const devices = all('Device');
    expect(devices.map(({ serialNumber }) => serialNumber).sort()).toEqual([...serials].sort());
    expect(devices.map(({ status }) => status).sort()).toEqual(['active', 'inactive']);
    expect(devices.every((device) => lensAsText(device).includes('left eye'))).toBe(true);
    const requests = all('DeviceRequest');
    expect(requests).toHaveLength(2);
    const replacement = JSON.stringify(requests.find(({ priorRequest }) => priorRequest !== undefined));
    for (const words of [number, 'vault high', `"value":${axisDeg}`, `"value":${lengthMm}`, 'Dr Ilse Varga'])
      expect(replacement).toContain(words);
    expect(all('SupplyRequest').map(({ status }) => status)).toEqual(['completed', 'completed']);
    expect(all('SupplyDelivery')).toHaveLength(2);
    expect(
      all('Procedure')
        .map(({ code }) => code!.text)
        .sort(),
    ).toEqual([
      'cross linking',
      'explantation of a phakic lens',
      'implantation of a phakic lens',
      'implantation of a phakic lens',
    ]);
  });

  it('gives every number a UCUM unit and every observation its eye', () => {
    const observations = all('Observation');
    const names = observations.map(({ code }) => code!.text);
    for (const name of [
      'refraction',
      'keratometry',
      'chamber',
      'dimensions',
      'vault',
      'lens axis',
      'lens axis at implantation',
      'corrected distance visual acuity',
      'uncorrected distance visual acuity',
      'visual acuity with contact lens',
    ])
      expect(names).toContain(name);
    const codes = new Set<string>();
    for (const { bodySite, valueQuantity, component = [], code } of observations) {
      expect(bodySite?.text).toBe('left eye');
      const quantities = [valueQuantity, ...component.map((one) => one.valueQuantity)].filter(
        (one) => one !== undefined,
      );
      // What was worn is a choice: it has no unit.
      if (code!.text !== 'lens wear') expect(quantities, code!.text).not.toEqual([]);
      for (const { system, code: unit, value } of quantities) {
        expect(system).toBe('http://unitsofmeasure.org');
        expect(Number.isFinite(value)).toBe(true);
        codes.add(unit);
      }
    }
    expect([...codes].sort()).toEqual(['1', '[diop]', 'deg', 'mm', 'um', '{Shaffer}', '{cells}/mm2'].sort());
  });

  it('names no patient unless it is asked to by somebody who may, and then it is on record', async () => {
    for (const secret of [patient, 'Zde', '1994-02-03', 'T-1', 'narrows']) expect(text).not.toContain(secret);
    expect(all('Patient')[0]).toMatchObject({ birthDate: '1994', name: [{ use: 'anonymous' }] });
    const una = await house.signIn('una');
    const looks = async () => {
      const { body } = await una.get<{ history: { action: string }[] }>(`/api/cases/${scene.caseId}`);
      return body.history.filter(({ action }) => action === 'case.identity').length;
    };
    const before = await looks();
    expect((await ask('oona', '?identity=true')).statusCode).toBe(403);
    expect((await ask('oona')).statusCode).toBe(200);
    expect((await ask('una', '?identity=yes')).statusCode).toBe(400);
    expect(await looks()).toBe(before);
    const named = await ask('una', '?identity=true');
    expect(named.statusCode).toBe(200);
    expect(named.payload).toContain(patient);
    expect(new Fhir().validate(JSON.parse(named.payload), { errorOnUnexpected: true }).valid).toBe(true);
    expect(await looks()).toBe(before + 1);
  });

  it('says the same ids each time, and tells of a case where nothing was ordered yet', async () => {
    const again = JSON.parse((await ask('una')).payload) as Bundle;
    expect(again.entry).toEqual(bundle.entry);
    const draft = await sceneAt(house, 'draft');
    const young = JSON.parse((await ask('una', '', draft.caseId)).payload) as Bundle;
    const types = new Set(young.entry.map(({ resource }) => resource.resourceType));
    expect([...types].sort()).toEqual(['Observation', 'Patient', 'Procedure']);
  });
});
