import { measurementKindNames, measurementKinds, type Field } from '@lensferry/domain';
import { describe, expect, it } from 'vitest';
import { MeasurementInput } from './measurements.js';

type NumberField = Extract<Field, { type: 'number' }>;
type Values = Record<string, number | string>;

/** Values of a kind that stand: the middle of each range, a cylinder without axis, a cornea that rises towards Kmax. */
function middling(kind: keyof typeof measurementKinds): Values {
  const values: Values = {};
  for (const field of measurementKinds[kind] as readonly Field[]) {
    if (field.type === 'number') values[field.name] = (field.min + field.max) / 2;
    if (field.type === 'choice') values[field.name] = field.choices[0] ?? '';
    if (field.type === 'date') values[field.name] = '2026-01-02';
  }
  if (kind === 'refraction') return { ...values, sphereD: -8, cylinderD: -4 };
  if (kind === 'keratometry') return { ...values, flatD: 45, steepD: 47, kmaxD: 50 };
  return values;
}

/** What is wrong with a measurement, by the field. */
function faults(kind: string, values: object): { path: string; message: string }[] {
  const { error } = MeasurementInput.safeParse({ kind, takenOn: '2026-01-02', device: 'any', values });
  return (error?.issues ?? []).map(({ path, message }) => ({ path: path.join('.'), message }));
}

const numbers = measurementKindNames.flatMap((kind) =>
  (measurementKinds[kind] as readonly Field[])
    .filter((field): field is NumberField => field.type === 'number')
    .map((field) => ({ kind, field, name: `${kind}.${field.name}` })),
);

describe('a value that no eye can have', () => {
  it.each(measurementKindNames)('is none of what an ordinary %s has', (kind) => {
    expect(faults(kind, middling(kind))).toEqual([]);
  });

  it.each(numbers)(
    'is refused beyond the range of $name, and the sentence says the range',
    ({ kind, field }) => {
      const { name, min, max, step, unit } = field;
      for (const value of [min - step, max + step, 10 * max + 1, -10_000]) {
        const found = faults(kind, { ...middling(kind), [name]: value }).filter(
          ({ path }) => path === `values.${name}`,
        );
        expect(found, String(value)).not.toEqual([]);
        expect(
          found.map(({ message }) => message),
          String(value),
        ).toContain(`${name} is between ${min} and ${max} ${unit}.`);
      }
    },
  );

  it.each(numbers)('is refused of $name when it is no number at all', ({ kind, field: { name } }) => {
    for (const value of [NaN, Infinity, -Infinity, '12', '', null, true])
      expect(
        faults(kind, { ...middling(kind), [name]: value }).map(({ path }) => path),
        String(value),
      ).toContain(`values.${name}`);
  });

  it.each(numbers)('is not what stands on the limits of $name', ({ kind, field: { name, min, max } }) => {
    for (const value of [min, max]) {
      const found = faults(kind, { ...middling(kind), [name]: value });
      // A rule between fields may still speak, but none of the range.
      for (const { message } of found) expect(message).not.toContain('is between');
    }
  });

  it('is one that contradicts another: a cylinder without axis, an axis without cylinder, a steep meridian below the flat', () => {
    const { axisDeg: _none, ...without } = middling('refraction');
    expect(faults('refraction', without).map(({ path }) => path)).toEqual(['values.axisDeg']);
    expect(faults('refraction', { ...middling('refraction'), cylinderD: 0 }).map(({ path }) => path)).toEqual(
      ['values.axisDeg'],
    );
    const steep = { ...middling('keratometry'), flatD: 48 };
    expect(faults('keratometry', steep).map(({ path }) => path)).toEqual(['values.steepD']);
  });

  it('is one that nobody asked for', () => {
    expect(faults('vault', { ...middling('vault'), vaultMm: 0.48 })).not.toEqual([]);
  });
});
