import { describe, expect, it } from 'vitest';
import {
  gs1CheckDigit,
  hasGs1CheckDigit,
  hibcCheckCharacter,
  LabelError,
  readLabel,
} from '../../packages/domain/src/identification/index.js';
import { fullYear } from '../../packages/domain/src/identification/calendar-dates.js';
import { hasGmnCheckPair } from '../../packages/domain/src/identification/check-characters.js';

const today = '2026-11-25';
const GS = '\u001d';

function refusal(text: string): string {
  try {
    readLabel(text, { today });
  } catch (error) {
    if (error instanceof LabelError) return error.code;
    throw error;
  }
  return 'accepted';
}

describe('GS1 values from outside', () => {
  it.each([
    ['629104150021', '3'], // GS1 General Specifications, check digit calculation (the association's own example)
    ['730001100001', '7'], // GS1 General Specifications
    ['890400021003', '7'], // GS1 General Specifications
  ])('gives %s the check digit %s', (digits, check) => expect(gs1CheckDigit(digits)).toBe(check));

  it('accepts and refuses the sample article numbers', () => {
    expect(hasGs1CheckDigit('09506000134352')).toBe(true); // GS1 Digital Link standard, sample GTIN
    expect(hasGs1CheckDigit('12345678901232')).toBe(false); // GS1 General Specifications: the right digit is 1
  });

  it('reads a DataMatrix element string', () => {
    const text = `]d201095060001343521727123110ABC123${GS}21SN0001`; // GS1 General Specifications, section 7.8
    expect(readLabel(text, { today })).toMatchObject({
      scheme: 'gs1',
      gtin: '09506000134352',
      expiresOn: '2027-12-31',
      lot: 'ABC123',
      serial: 'SN0001',
      warnings: [],
    });
  });

  it("reads the regulator's sample label", () => {
    const text = '(01)51022222233336(11)141231(17)150707(10)A213B1(21)1234'; // FDA, UDI formats by issuing agency
    expect(readLabel(text, { today })).toMatchObject({
      gtin: '51022222233336',
      madeOn: '2014-12-31',
      expiresOn: '2015-07-07',
      lot: 'A213B1',
      serial: '1234',
    });
  });

  it.each([
    [76, 2076], // GS1 General Specifications, section 7.12: 50 years ahead is this century
    [77, 1977], // GS1 General Specifications, section 7.12: 51 years ahead is the last century
    [26, 2026],
  ])('reads year %i as %i in 2026', (two, four) => expect(fullYear(two, 2026)).toBe(four));

  it('reads years of the next century near its turn', () => {
    expect(fullYear(0, 2099)).toBe(2100); // GS1 General Specifications, section 7.12: 50 or more behind
    expect(fullYear(49, 2099)).toBe(2149);
    expect(fullYear(50, 2099)).toBe(2050);
  });

  it.each(['201310', '200230', '230229'])('refuses %s, which is no date', (date) => {
    expect(refusal(`]d20109506000134352${'17'}${date}`)).toBe('label.date'); // GS1 General Specifications, YYMMDD
  });

  it('accepts the leap day of 2020 and reads day 00 as the end of its month with a warning', () => {
    expect(readLabel(']d2010950600013435217200229', { today }).expiresOn).toBe('2020-02-29'); // calendar
    const open = readLabel(']d2010950600013435217270200', { today }); // GS1 General Specifications, section 3.4.7
    expect(open.expiresOn).toBe('2027-02-28');
    expect(open.warnings.map((warning) => warning.code)).toEqual(['day-00']);
  });

  it('proves the check pair of a model number', () => {
    expect(hasGmnCheckPair('1987654Ad4X4bL5ttr2310c2K')).toBe(true); // GS1 General Specifications, GMN sample, from memory
    expect(hasGmnCheckPair('1987654Ad4X4bL5ttr2310c3K')).toBe(false);
  });

  it('reads a digital link with qualifiers and an attribute', () => {
    const text = 'https://id.gs1.org/01/09506000134352/10/ABC123/21/12345?17=271231'; // GS1 Digital Link standard, sample form
    expect(readLabel(text, { today })).toMatchObject({
      scheme: 'gs1-digital-link',
      gtin: '09506000134352',
      lot: 'ABC123',
      serial: '12345',
      expiresOn: '2027-12-31',
    });
  });
});

describe('HIBC values from outside', () => {
  it.each([
    ['+A123BJC5D6E71', 'G'], // ANSI/HIBC 2.6, modulo 43 example
    ['+A99912345/$$52001510X3', '3'], // ANSI/HIBC 2.6, combined example
    ['+A99912345/$10X3/16D20111231/14D20200131', '3'], // ANSI/HIBC 2.6, supplemental example
  ])('gives %s the check character %s', (text, check) => expect(hibcCheckCharacter(text)).toBe(check));

  it('reads the combined example', () => {
    expect(readLabel('+A99912345/$$52001510X33', { today })).toMatchObject({
      scheme: 'hibc', // ANSI/HIBC 2.6: day 15 of 2020
      hibcPrimary: 'A99912345',
      expiresOn: '2020-01-15',
      lot: '10X3',
    });
  });

  it('reads manufacture and expiry from supplements', () => {
    expect(readLabel('+A99912345/$10X3/16D20111231/14D202001313', { today })).toMatchObject({
      lot: '10X3', // ANSI/HIBC 2.6, supplemental example
      madeOn: '2011-12-31',
      expiresOn: '2020-01-31',
    });
  });

  it('refuses the long example whose check character does not fit', () => {
    const text = '+H123PARTNO1234567890120/$$420020216LOT123456789012345/SXYZ456789012345678/16D20130202C'; // ANSI/HIBC 2.6, example as printed
    expect(refusal(text)).toBe('label.check-digit');
  });
});
