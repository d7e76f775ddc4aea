import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { phakicEyes } from '../../../../tests/support/arbitrary-eyes.js';
import { good, whole } from '../../../../tests/support/plan-eyes.js';
import {
  blurD,
  idealLens,
  planFile,
  powerVector,
  subtractCrossed,
  type FailedPlan,
  type Plan,
  type SphereCylinder,
} from '../index.js';

const schema = (name: string): object =>
  JSON.parse(readFileSync(new URL(`../../../../docs/schema/${name}.schema.json`, import.meta.url), 'utf8'));
const ajv = new Ajv2020({ allErrors: true, allowUnionTypes: true });
const isInput = ajv.compile(schema('plan-input'));
const isOutput = ajv.compile(schema('plan-output'));

const apart = (a: SphereCylinder, b: SphereCylinder): number => blurD(powerVector(subtractCrossed(a, b)));
const isFailed = (plan: Plan | FailedPlan): plan is FailedPlan => 'error' in plan;

function plan(...eyes: unknown[]): { plans: (Plan | FailedPlan)[]; exitCode: number } {
  const { output, exitCode } = planFile(JSON.stringify({ eyes }), { csv: false });
  const data = JSON.parse(output);
  expect(isOutput(data), JSON.stringify(isOutput.errors)).toBe(true);
  return { plans: data.plans, exitCode };
}

function errorOf(eye: unknown): FailedPlan['error'] {
  const { plans, exitCode } = plan(eye);
  expect(exitCode).toBe(1);
  const [only] = plans as [Plan | FailedPlan];
  if (!isFailed(only)) throw new Error('the eye was computed');
  return only.error;
}

describe('a file of eyes', () => {
  it('becomes one plan for each, in order, as the published schemas say', () => {
    expect(isInput({ eyes: [good, whole] }), JSON.stringify(isInput.errors)).toBe(true);
    const { plans, exitCode } = plan(good, { ...whole, id: 'A2' }, { ...good, id: 3, eye: 'OS' });
    expect(exitCode).toBe(0);
    expect(plans.map((p) => p.id)).toEqual(['A1', 'A2', 3]);
    expect(plans.map((p) => 'predictedRefraction' in p)).toEqual([false, true, false]);
    expect(plans.map((p) => 'suggestedLengthMm' in p)).toEqual([false, true, false]);
  });

  it('keeps its lens unrounded', () => {
    const [first] = plan(good).plans as Plan[];
    expect(first?.idealLens).toEqual(idealLens(good));
  });

  it('computes the others where one cannot be', () => {
    const { plans, exitCode } = plan({ ...good, id: 'bad', cornealThicknessUm: 0.5 }, good);
    expect(exitCode).toBe(1);
    expect(plans.map(isFailed)).toEqual([true, false]);
  });

  it('may be empty of eyes', () => {
    expect(plan()).toEqual({ plans: [], exitCode: 0 });
  });

  it('computes the published example', () => {
    const text = readFileSync(new URL('../../../../docs/schema/plan-example.json', import.meta.url), 'utf8');
    expect(isInput(JSON.parse(text)), JSON.stringify(isInput.errors)).toBe(true);
    expect(planFile(text, { csv: false }).exitCode).toBe(0);
  });

  it('agrees with its schema for any eye', () => {
    fc.assert(
      fc.property(phakicEyes, (eye) => {
        const { plans } = plan({ id: 'any', eye: 'OD', ...eye, sulcusMm: 11.6 });
        expect(plans).toHaveLength(1);
      }),
      { numRuns: 25 },
    );
  });
});

describe('an eye that cannot be computed', () => {
  const refraction = (more: object): object => ({ ...good, refraction: { ...good.refraction, ...more } });
  const keratometry = (more: object): object => ({ ...good, keratometry: { ...good.keratometry, ...more } });
  const without = (field: string): object =>
    Object.fromEntries(Object.entries(good).filter(([key]) => key !== field));

  it.each<[string, string, unknown, unknown]>([
    ['refraction.axisDeg', 'input.out-of-range', 181, refraction({ axisDeg: 181 })],
    ['refraction.axisDeg', 'input.missing', undefined, refraction({ axisDeg: undefined })],
    ['refraction.sphereD', 'input.not-a-number', '-8', refraction({ sphereD: '-8' })],
    ['refraction.sphereD', 'input.not-a-number', null, refraction({ sphereD: NaN })],
    ['refraction.prism', 'input.unknown-field', 1, refraction({ prism: 1 })],
    ['refraction', 'input.missing', undefined, without('refraction')],
    ['refraction', 'input.wrong-type', 'a list', { ...good, refraction: [] }],
    ['keratometry.flatD', 'input.contradiction', 60, keratometry({ flatD: 60 })],
    ['keratometry.steepAxisDeg', 'input.missing', undefined, keratometry({ steepAxisDeg: undefined })],
    ['anteriorChamberDepthMm', 'input.missing', undefined, without('anteriorChamberDepthMm')],
    ['whiteToWhiteMm', 'input.not-a-number', null, { ...good, whiteToWhiteMm: null }],
    ['sizesMm[1]', 'input.not-a-number', '12,5', { ...good, sulcusMm: 11.6, sizesMm: [12, '12,5'] }],
    ['sizesMm', 'input.wrong-type', 'a list', { ...good, sizesMm: [] }],
    ['eye', 'input.wrong-type', 'left', { ...good, eye: 'left' }],
    ['id', 'input.missing', undefined, without('id')],
    ['id', 'input.wrong-type', ' ', { ...good, id: ' ' }],
    ['colour', 'input.unknown-field', 'blue', { ...good, colour: 'blue' }],
    ['eyes[0]', 'input.wrong-type', 7, 7],
    ['eyes[0]', 'input.wrong-type', null, null],
    ['refraction', 'optics.no-image', 60, refraction({ sphereD: 60, cylinderD: 0, vertexMm: 30 })],
  ])('names %s with %s and the value %j', (field, code, value, eye) => {
    const error = errorOf(eye);
    expect([error.field, error.code]).toEqual([field, code]);
    expect(error.value).toEqual(value);
    expect(error.message.endsWith('.')).toBe(true);
  });

  it('refuses a number that JSON lets overflow, by name', () => {
    const text = JSON.stringify({ eyes: [good] }).replace('"sphereD":-8', '"sphereD":1e999');
    const { plans } = JSON.parse(planFile(text, { csv: false }).output);
    expect(plans[0].error).toMatchObject({ field: 'refraction.sphereD', value: 'Infinity' });
  });

  it('refuses a field named __proto__ like any other', () => {
    const text = `{"eyes":[{"__proto__":{"a":1},"id":"A1"}]}`;
    expect(JSON.parse(planFile(text, { csv: false }).output).plans[0].error.field).toBe('__proto__');
  });

  it('is refused when its id was used before', () => {
    const { plans } = plan(good, { ...good, eye: 'OS' });
    expect(plans[1]).toMatchObject({ id: 'A1', error: { code: 'input.duplicate', field: 'id' } });
  });

  it('is refused by the published schema too, in most of these ways', () => {
    for (const bad of [
      refraction({ axisDeg: 181 }),
      without('id'),
      { ...good, colour: 1 },
      { ...good, eye: 'x' },
    ]) {
      expect(isInput({ eyes: [bad] })).toBe(false);
    }
  });
});

describe('a plain eye', () => {
  it('needs no axis where there is no cylinder', () => {
    const plain = {
      ...good,
      refraction: { sphereD: -8, cylinderD: 0, vertexMm: 12 },
      keratometry: { flatD: 46, steepD: 46 },
    };
    expect(isInput({ eyes: [plain] })).toBe(true);
    const [first] = plan(plain).plans as Plan[];
    expect(first?.idealLens).toMatchObject({ cylinderD: 0, axisDeg: 0 });
  });

  it('does not mind an axis without cylinder, an axis of 180° or the plus form', () => {
    const lens = (refraction: object): SphereCylinder =>
      (plan({ ...good, refraction }).plans[0] as Plan).idealLens;
    const sphere = { sphereD: -8, cylinderD: 0, vertexMm: 12 };
    expect(lens({ ...sphere, axisDeg: 77 })).toEqual(lens(sphere));
    const toric = { ...good.refraction, axisDeg: 180 };
    expect(apart(lens(toric), lens({ ...toric, axisDeg: 0 }))).toBeLessThan(1e-12);
    const plus = { sphereD: -12, cylinderD: 4, axisDeg: 120, vertexMm: 12 };
    expect(apart(lens(plus), idealLens(good))).toBeLessThan(1e-12);
    expect(lens(plus).cylinderD).toBeLessThan(0);
  });

  it('keeps ids in any script', () => {
    const [first] = plan({ ...good, id: '🙂 שלום' }).plans;
    expect(first?.id).toBe('🙂 שלום');
  });
});

describe('findings', () => {
  const levels = (eye: object): Record<string, string> =>
    Object.fromEntries((plan(eye).plans[0] as Plan).findings.map((f) => [f.code, f.level]));

  it.each([
    [2.7, 'stop'],
    [2.9, 'caution'],
    [3.1, 'fine'],
    [4.3, 'caution'],
  ])('judge a depth of %d mm as %s', (anteriorChamberDepthMm, level) => {
    expect(levels({ ...good, anteriorChamberDepthMm })['eye.depth']).toBe(level);
  });

  it.each([
    [59.9, 'fine'],
    [60, 'caution'],
    [45, 'caution'],
  ])('judge a Kmax of %d D as %s', (kmaxD, level) => {
    expect(levels({ ...good, kmaxD })['eye.kmax']).toBe(level);
  });

  it('stop at a lens across the axis', () => {
    const found = levels({ ...good, lens: { sphereD: -9, cylinderD: -4, axisDeg: 120 } });
    expect(found['lens.axis']).toBe('stop');
    expect(found['lens.leftover']).toBe('stop');
    expect(levels(whole)['lens.leftover']).toBeDefined();
  });

  it('say that an error is likely, that one refraction is few, and to ask the maker', () => {
    expect(levels(good)).toMatchObject({
      'outcome.error-likely': 'caution',
      'refraction.only-one': 'caution',
      'plan.check-with-maker': 'caution',
      'size.no-width': 'caution',
    });
  });

  it('name the conversion of the corneal readings', () => {
    expect(levels(good)).toHaveProperty(['keratometry.as-given']);
    expect(levels(whole)).toHaveProperty(['keratometry.net-four-thirds']);
  });

  it('say when the lengths were assumed', () => {
    expect(levels({ ...good, sulcusMm: 11.6 })['size.lengths-assumed']).toBe('caution');
  });
});

describe('a file that cannot be read', () => {
  it.each([
    ['', 'The file is empty.'],
    ['[]', 'The file must hold an object with a list "eyes".'],
    ['{"eyes":{}}', '"eyes" must be a list.'],
    ['{"eyes":[],"more":1}', 'Beside "eyes" the file holds "more", which is not known.'],
  ])('is answered with one sentence: %j', (text, problem) => {
    expect(planFile(text, { csv: false })).toEqual({ output: '', problem, exitCode: 2 });
  });

  it('is told from CSV', () => {
    expect(planFile('id,eye\nA,OD', { csv: false }).problem).toContain('add --csv');
    expect(planFile('{"eyes":', { csv: false }).problem).toMatch(/^The file is not JSON/);
  });
});
