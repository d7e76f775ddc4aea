import { describe, expect, it } from 'vitest';
import { GROUP_SEPARATOR, isSeparatorKey, labelOf, readable } from './label';

describe('a label as scanned and typed', () => {
  it('becomes what the API takes, numbers as numbers, nothing for what is empty', () => {
    const { label } = labelOf('', {
      eye: 'OD',
      sphereD: '−9,25',
      cylinderD: '-4.75',
      axisDeg: '32',
      lengthMm: '12.5',
      serial: ' Q8-001 ',
      lot: '',
    });
    expect(label).toEqual({
      text: '',
      eye: 'OD',
      sphereD: -9.25,
      cylinderD: -4.75,
      axisDeg: 32,
      lengthMm: 12.5,
      serial: 'Q8-001',
    });
  });

  it('names the fields that can not be what was meant', () => {
    expect(labelOf('', { axisDeg: '181', expiresOn: '2026-02-30', sphereD: 'x' }).wrong.sort()).toEqual([
      'axisDeg',
      'expiresOn',
      'sphereD',
    ]);
  });

  it('keeps the separator that a scanner sends as Ctrl and ]', () => {
    expect(isSeparatorKey({ ctrlKey: true, key: ']' })).toBe(true);
    expect(isSeparatorKey({ ctrlKey: false, key: ']' })).toBe(false);
    expect(readable(`10A${GROUP_SEPARATOR}21B`)).toBe('10A␝21B');
  });
});
