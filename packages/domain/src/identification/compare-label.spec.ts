import { describe, expect, it } from 'vitest';
import { compareLabel, COMPARED_FIELDS } from './compare-label.js';
import { readLabel } from './read-label.js';
import { writeGs1Label } from './write-label.js';

const today = '2026-11-25';
const lens = {
  eye: 'RIGHT' as const,
  sphereD: -9.25,
  cylinderD: -4.75,
  axisDeg: 32,
  lengthMm: 12.5,
  caseCode: 'EST-0042R',
};
const pack = { gtin: '09506000134352', serial: 'SN0001', lot: 'ABC123', expiresOn: '2029-11-30' };
const expected = { ...lens, ...pack };
const reading = readLabel(writeGs1Label({ ...pack, lens }), { today });
const verdicts = (want: Parameters<typeof compareLabel>[0], of = reading) =>
  Object.fromEntries(compareLabel(want, of).map(({ field, verdict }) => [field, verdict]));

describe('comparing a label with its order', () => {
  it('matches in all ten fields when all is right', () => {
    const all = compareLabel(expected, reading);
    expect(all.map(({ field }) => field)).toEqual([...COMPARED_FIELDS]);
    expect(all.every(({ verdict }) => verdict === 'match')).toBe(true);
  });

  it.each([
    ['eye', 'LEFT'],
    ['sphereD', -9.26],
    ['sphereD', 9.25],
    ['cylinderD', -4.74],
    ['axisDeg', 33],
    ['axisDeg', 122],
    ['axisDeg', null],
    ['lengthMm', 12.75],
    ['serial', 'SN00O1'],
    ['serial', 'sn0001'],
    ['lot', 'ABC124'],
    ['expiresOn', '2029-11-29'],
    ['gtin', '09506000134369'],
    ['gtin', null],
    ['caseCode', 'EST-0043R'],
  ])('finds a wrong %s (%s) and nothing else', (field, value) => {
    const found = compareLabel({ ...expected, [field]: value }, reading).filter(
      ({ verdict }) => verdict !== 'match',
    );
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ field, expected: value, verdict: 'mismatch' });
  });

  it('says what is not on a label that has only a serial', () => {
    const serial = readLabel('SN0001', { today });
    expect(verdicts(expected, serial)).toEqual({
      eye: 'not on label',
      sphereD: 'not on label',
      cylinderD: 'not on label',
      axisDeg: 'not on label',
      lengthMm: 'not on label',
      serial: 'match',
      lot: 'not on label',
      expiresOn: 'not on label',
      gtin: 'not on label',
      caseCode: 'not on label',
    });
  });

  it('matches a spherical lens without an axis, and finds an axis that nobody ordered', () => {
    const sphere = { ...lens, cylinderD: 0, axisDeg: null };
    const label = readLabel(writeGs1Label({ ...pack, lens: sphere }), { today });
    expect(verdicts({ axisDeg: null, cylinderD: 0 }, label)).toEqual({
      axisDeg: 'match',
      cylinderD: 'match',
    });
    expect(verdicts({ axisDeg: null })).toEqual({ axisDeg: 'mismatch' });
    expect(verdicts({ axisDeg: 180 }, label)).toEqual({ axisDeg: 'mismatch' });
  });

  it('leaves out what nobody announced', () => {
    expect(compareLabel({ serial: 'SN0001' }, reading)).toHaveLength(1);
  });
});
