import { readFileSync } from 'node:fs';
import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import formats from 'ajv-formats';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  makerExchanges,
  makerSchema,
  makerSchemaNames,
  type MakerSchemaName,
} from '../../packages/contracts/src/index.js';
import { returnDocument } from '../../apps/api/dist/dispatch/order-document.js';
import { changeOf } from '../../apps/api/dist/orders/order-change.js';
import { openHouse, type House } from '../support/house.js';
import { as, orderOf, sceneAt } from '../support/scenes.js';

const compiled = new Map<MakerSchemaName, ValidateFunction>();
const against = (name: MakerSchemaName): ValidateFunction => {
  const known = compiled.get(name);
  if (known !== undefined) return known;
  const ajv = new Ajv2020({ strict: false, allErrors: true });
  (formats as unknown as (of: Ajv2020) => void)(ajv);
  const made = ajv.compile(makerSchema(name));
  compiled.set(name, made);
  return made;
};
const faults = (name: MakerSchemaName, value: unknown): unknown => {
  const validate = against(name);
  return validate(value) ? [] : validate.errors;
};

describe('the schemas that makers read', () => {
  let house: House;
  beforeAll(async () => {
    house = await openHouse();
  });
  afterAll(() => house?.close());

  it.each(makerSchemaNames)('are in docs/schema as they stand in the code: %s', (name) => {
    const kept: unknown = JSON.parse(readFileSync(`docs/schema/${name}.schema.json`, 'utf8'));
    expect(kept, 'run `npm run schemas`').toEqual(JSON.parse(JSON.stringify(makerSchema(name))));
  });

  it('are served to anybody', async () => {
    const ask = (url: string) => house.app.inject({ method: 'GET', url });
    const { names } = JSON.parse((await ask('/api/maker-schemas')).payload) as { names: string[] };
    expect(names).toEqual([...makerSchemaNames]);
    for (const name of names) {
      const answer = await ask(`/api/maker-schemas/${name}`);
      expect(answer.statusCode).toBe(200);
      expect(JSON.parse(answer.payload)).toEqual(JSON.parse(JSON.stringify(makerSchema(name as never))));
    }
    expect((await ask('/api/maker-schemas/nothing')).statusCode).toBe(400);
  });

  it('take the documents that are really sent', async () => {
    const placed = await orderOf(await sceneAt(house, 'sent'));
    expect(faults('lens-order', placed.document)).toEqual([]);
    const changed = await orderOf(await sceneAt(house, 'change_requested'));
    expect(faults('order-change', changeOf(changed)?.document)).toEqual([]);
    const asked = await orderOf(await sceneAt(house, 'cancel_requested'));
    expect(faults('order-cancellation', asked.cancellation)).toEqual([]);
    const scene = await sceneAt(house, 'rejected');
    const notice = await as(scene.cast, scene.clinic, 'inventory', async (work) => {
      const { id } = await work.tx.lensReturn.findFirstOrThrow({ where: { lensId: scene.lensId } });
      return returnDocument(work, id);
    });
    expect(faults('lens-return', notice)).toEqual([]);
  });

  it('refuse what the documents’ own rules refuse', async () => {
    const { document } = await orderOf(await sceneAt(house, 'sent'));
    const order = document as { lens: object; eye: string };
    const wrong: [string, object][] = [
      ['a key that nobody knows', { ...order, patient: 'A name' }],
      ['plus cylinder', { ...order, lens: { ...order.lens, cylinderD: 2 } }],
      ['a cylinder without an axis', { ...order, lens: { ...order.lens, axisDeg: null } }],
      ['an axis without a cylinder', { ...order, lens: { ...order.lens, cylinderD: 0 } }],
      ['the other eye', { ...order, eye: order.eye === 'LEFT' ? 'RIGHT' : 'LEFT' }],
      ['a day that there is not', { ...order, needBy: '2026-02-30' }],
    ];
    for (const [what, value] of wrong) {
      expect(makerExchanges['lens-order'].safeParse(value).success, what).toBe(false);
      expect(faults('lens-order', value), what).not.toEqual([]);
    }
    const sentAt = '2026-11-25T08:11:09.000Z';
    const answer = { sentAt, orderNumber: 'LE-2611-0001', change: 1 };
    const refused = { type: 'order.change-refused', ...answer, reason: 'It is cut already.' };
    expect(faults('maker-message', refused)).toEqual([]);
    expect(faults('maker-message', { type: 'order.change-refused', ...answer })).not.toEqual([]);
    expect(faults('maker-message', { ...refused, type: 'order.forgotten' })).not.toEqual([]);
    expect(faults('maker-receipt', { received: true, reference: 'R-1' })).toEqual([]);
  });
});
