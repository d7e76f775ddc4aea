import { describe, expect, it } from 'vitest';
import { MeasurementInput } from '@lensferry/contracts';
import { contractResolver, filled } from './contract-resolver';

const t = (key: string) => key;
const resolve = (values: Record<string, unknown>) =>
  contractResolver(MeasurementInput, t)(values, undefined, { fields: {}, shouldUseNativeValidation: false });
const base = { kind: 'refraction', takenOn: '2026-11-25', device: 'Phoropter' };

describe('the resolver of a form', () => {
  it('lets through what the contract lets through', async () => {
    const values = { sphereD: -8, cylinderD: -4, axisDeg: 30, vertexMm: 12, correctedDecimal: undefined };
    expect((await resolve({ ...base, values })).errors).toEqual({});
  });

  it('puts each error at its field', async () => {
    const values = { sphereD: Number.NaN, cylinderD: -44, axisDeg: 30 };
    const { errors } = (await resolve({ ...base, takenOn: '2026-02-30', values })) as {
      errors: Record<string, never>;
    };
    expect(errors).toMatchObject({
      takenOn: { message: 'form.date' },
      values: {
        sphereD: { message: 'form.number' },
        cylinderD: { message: 'form.at_least' },
        vertexMm: { message: 'form.required' },
      },
    });
  });

  it('keeps the sentence of a rule between fields', async () => {
    const values = { sphereD: -8, cylinderD: -4, vertexMm: 12 };
    const { errors } = (await resolve({ ...base, values })) as { errors: Record<string, never> };
    expect(errors).toMatchObject({
      values: { axisDeg: { message: expect.stringContaining('A cylinder needs its axis') } },
    });
  });

  it('leaves out what is empty, deep inside too', () => {
    expect(filled({ a: ' ', b: { c: undefined, d: 0 }, e: null })).toEqual({ b: { d: 0 }, e: null });
  });
});
