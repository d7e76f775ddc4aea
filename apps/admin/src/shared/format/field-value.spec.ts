import { describe, expect, it } from 'vitest';
import { dateFormatOf } from './dates';
import { tellField } from './field-value';
import { numberFormatOf } from './numbers';

const format = { ...numberFormatOf('en'), date: dateFormatOf('en') };
const known: Record<string, string> = {
  'eye.OD': 'right eye',
  'eye.capitals.LEFT': 'LEFT EYE',
  'order.state.sent': 'sent out',
};
const t = (key: string, options?: Record<string, unknown>) => known[key] ?? String(options?.['_'] ?? key);
const tell = (name: string, value: string | number | null) => tellField(name, value, format, t, '2026-11-25');

describe('the value of a field', () => {
  it('has the unit that its name says', () => {
    expect(tell('sphereD', -9.25)).toBe('−9.25\u202fD');
    expect(tell('axisDeg', 32)).toBe('32°');
    expect(tell('lengthMm', 12.5)).toBe('12.50\u202fmm');
    expect(tell('vaultUm', 490)).toBe('490\u202fµm');
    expect(tell('attempts', 3)).toBe('3');
  });

  it('is told in words where there are words', () => {
    expect(tell('eye', 'OD')).toBe('right eye');
    expect(tell('eye', 'LEFT')).toBe('LEFT EYE');
    expect(tell('change', 'sent')).toBe('sent out');
    expect(tell('serial', 'Q8-001')).toBe('Q8-001');
    expect(tell('expiresOn', '2026-12-09')).toBe('Wed 9 Dec');
    expect(tell('lot', null)).toBe('–');
  });
});
