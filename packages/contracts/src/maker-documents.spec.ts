import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { MakerMessage, OrderDocument, ReturnDocument } from './maker-documents.js';

const order: OrderDocument = {
  document: 'lens-order',
  version: 1,
  orderNumber: 'LF-2611-0187',
  caseCode: 'EST-0042R',
  clinic: { code: 'EST', name: 'Estuary Eye Clinic' },
  eye: 'RIGHT',
  lens: {
    designCode: 'TERN-T',
    designVersion: 3,
    sphereD: -9.25,
    cylinderD: -4.75,
    axisDeg: 32,
    lengthMm: 12.5,
  },
  specificationHash: 'a'.repeat(64),
  needBy: '2027-01-12',
  replaces: null,
  urgent: false,
  signedBy: 'Dr I. Example',
  signedAt: '2026-11-25T08:00:00.000Z',
  placedAt: '2026-11-25T08:05:00.000Z',
};

describe('an order document', () => {
  it('is accepted when it is whole', () => expect(OrderDocument.parse(order)).toEqual(order));

  it.each([
    ['a patient name slipped in', { ...order, patientName: 'x' }],
    ['another eye than the case code', { ...order, eye: 'LEFT' }],
    ['axis 181', { ...order, lens: { ...order.lens, axisDeg: 181 } }],
    ['axis 0, which is written 180', { ...order, lens: { ...order.lens, axisDeg: 0 } }],
    ['a plus cylinder', { ...order, lens: { ...order.lens, cylinderD: 4.75 } }],
    ['an axis without a cylinder', { ...order, lens: { ...order.lens, cylinderD: 0 } }],
    ['a cylinder without an axis', { ...order, lens: { ...order.lens, axisDeg: null } }],
    ['a sphere that is not a number', { ...order, lens: { ...order.lens, sphereD: Number.NaN } }],
    ['a thousandth of a dioptre', { ...order, lens: { ...order.lens, sphereD: -9.255 } }],
    ['30 February', { ...order, needBy: '2027-02-30' }],
    ['an order that replaces itself', { ...order, replaces: order.orderNumber }],
    ['an upper-case hash', { ...order, specificationHash: 'A'.repeat(64) }],
  ])('refuses %s', (_, bad) => expect(OrderDocument.safeParse(bad).success).toBe(false));

  it('takes a sphere without an axis', () => {
    const sphere = { ...order, lens: { ...order.lens, cylinderD: 0, axisDeg: null } };
    expect(OrderDocument.parse(sphere).lens.axisDeg).toBeNull();
  });

  it('takes every hundredth of a dioptre in the range despite binary fractions', () => {
    for (let n = -4000; n <= 4000; n += 1) {
      const lens = { ...order.lens, sphereD: n / 100 };
      if (!OrderDocument.safeParse({ ...order, lens }).success) throw new Error(`${n / 100} refused`);
    }
  });
});

describe('messages from a maker', () => {
  it('are told apart by their type and refuse unknown fields', () => {
    const declined = {
      type: 'order.declined',
      sentAt: order.placedAt,
      orderNumber: order.orderNumber,
      reason: 'Out of range',
    };
    expect(MakerMessage.parse(declined).type).toBe('order.declined');
    expect(MakerMessage.safeParse({ ...declined, extra: 1 }).success).toBe(false);
    expect(MakerMessage.safeParse({ ...declined, type: 'order.lost' }).success).toBe(false);
  });

  it('refuse money as a number', () => {
    const credit = {
      type: 'return.credited',
      sentAt: order.placedAt,
      returnNumber: 'LR-2611-0012',
      currency: 'EUR',
    };
    expect(MakerMessage.safeParse({ ...credit, amount: 612.5 }).success).toBe(false);
    expect(MakerMessage.safeParse({ ...credit, amount: '612.50' }).success).toBe(true);
  });

  it('can all be published as JSON Schema', () => {
    for (const schema of [OrderDocument, ReturnDocument, MakerMessage]) {
      expect(z.toJSONSchema(schema)).toHaveProperty('$schema');
    }
  });
});
