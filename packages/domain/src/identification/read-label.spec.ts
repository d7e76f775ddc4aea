import { describe, expect, it } from 'vitest';
import { LabelError, LabelValueError } from './label-error.js';
import type { LabelScheme } from './label-reading.js';
import { writeLensElement } from './lens-element.js';
import { readLabel } from './read-label.js';
import { writeBracketedLabel, writeGs1Label, writeHibcLabel } from './write-label.js';

const today = '2026-11-25';
const GS = '\u001d';
const lens = {
  eye: 'LEFT' as const,
  sphereD: -11,
  cylinderD: -5.5,
  axisDeg: 180,
  lengthMm: 12.25,
  caseCode: 'EST-0042L',
};
const content = {
  gtin: '09506000134352',
  serial: 'SN0001',
  lot: 'ABC123',
  expiresOn: '2029-11-30',
  madeOn: '2026-11-20',
  lens,
};
const whole = {
  gtin: content.gtin,
  serial: 'SN0001',
  lot: 'ABC123',
  expiresOn: '2029-11-30',
  madeOn: '2026-11-20',
  lens,
};

function refusal(text: string, accept?: readonly LabelScheme[]) {
  try {
    return readLabel(text, accept ? { today, accept } : { today }).scheme;
  } catch (error) {
    if (!(error instanceof LabelError)) throw error;
    expect(error.message).toMatch(/^\S[^\n]*[.]$/);
    expect(error.position).toBeGreaterThanOrEqual(0);
    expect(error.position).toBeLessThanOrEqual(text.length);
    return error.code;
  }
}

describe('a whole GS1 label', () => {
  const scanned = writeGs1Label(content);

  it('reads the same from a scanner, without its prefix, in brackets and as a link', () => {
    const link = `https://lens.example/x/01/${content.gtin}/10/ABC123/21/SN0001?17=291130&11=261120&lang=de&91=${encodeURIComponent(writeLensElement(lens))}`;
    for (const text of [
      scanned,
      scanned.slice(3),
      GS + scanned.slice(3),
      writeBracketedLabel(content),
      link,
    ]) {
      expect(readLabel(text, { today })).toMatchObject({ ...whole, warnings: [] });
    }
  });

  it('reads the same with the other GS1 prefixes and with the picture of the separator', () => {
    for (const prefix of [']C1', ']Q3', ']e0']) {
      expect(readLabel(prefix + scanned.slice(3), { today })).toMatchObject(whole);
    }
    expect(readLabel(scanned.replaceAll(GS, '\u241d'), { today })).toMatchObject(whole);
  });

  it('keeps the raw text and says where each element stood', () => {
    const reading = readLabel(` ${scanned}\r\n`, { today });
    expect(reading.raw).toBe(` ${scanned}\r\n`);
    for (const { identifier, value, position } of reading.elements) {
      expect(reading.raw.slice(position)).toMatch(new RegExp(`^${identifier}`));
      expect(reading.raw.slice(position + identifier.length).startsWith(value)).toBe(true);
    }
  });
});

describe('GS1 faults', () => {
  it.each([
    ['a wrong check digit', ']d20109506000134353', 'label.check-digit'],
    ['an article number of nothing but zeros', ']d20100000000000000', 'label.check-digit'],
    ['a short article number', ']d2010950600013435', 'label.length'],
    ['an article number that a separator cuts', `]d2010950600013${GS}1721SN1`, 'label.length'],
    ['letters in an article number', ']d2010950600013435O', 'label.character'],
    ['month 13', ']d2010950600013435217271301', 'label.date'],
    ['month 00', ']d2010950600013435217270001', 'label.date'],
    ['hour 24', ']d2010950600013435270032712312400', 'label.date'],
    ['an unknown element', ']d2010950600013435219271231', 'label.unknown-element'],
    ['a weight', ']d201095060001343523103001750', 'label.unknown-element'],
    ['two separators', `]d2010950600013435210ABC${GS}${GS}21SN1`, 'label.separator'],
    ['an empty lot', `]d2010950600013435210${GS}21SN1`, 'label.length'],
    ['a lot of 21 characters', `]d2010950600013435210${'A'.repeat(21)}`, 'label.length'],
    ['a character outside set 82', ']d2010950600013435221SN#1', 'label.character'],
    ['an accented letter', ']d2010950600013435221SNÉ1', 'label.character'],
    ['an emoji', ']d2010950600013435221SN🙂', 'label.character'],
    ['a digit of another script', ']d20109506000134352172712٣1', 'label.character'],
    ['two serials', `]d2010950600013435221SN1${GS}21SN2`, 'label.contradiction'],
    ['two expiries', ']d20109506000134352172712317003271230' + '2359', 'label.contradiction'],
    ['made after it expires', ']d201095060001343521128010117271231', 'label.contradiction'],
    ['a unit and a content', ']d20109506000134352' + '0209506000134352', 'label.contradiction'],
    ['a parcel', '(00)106141412345678908', 'label.not-a-unit'],
    ['a bracket in a value', '(01)09506000134352(21)SN(10)1', 'accepted-as-lot'],
    ['an empty value in brackets', '(01)09506000134352(21)', 'label.separator'],
    ['a space in a value', '(01)09506000134352(21)SN 1', 'label.separator'],
    ['a Data Matrix that is not marked as GS1', ']d10109506000134352', 'label.unknown-scheme'],
    ['a prefix of another kind', ']E00950600013435', 'label.unknown-scheme'],
    ['nothing', ' \r\n', 'label.empty'],
    ['an empty symbol', ']d2', 'label.empty'],
    ['a book', '1'.repeat(1001), 'label.too-long'],
    ['an article number alone', '9506000134352', 'label.unknown-scheme'],
  ])('refuse %s', (_, text, code) => {
    // A bracketed value cannot hold brackets, so what looks like one starts the next element.
    expect(refusal(text)).toBe(code === 'accepted-as-lot' ? 'gs1' : code);
  });

  it('refuse a lens whose check characters do not fit', () => {
    const element = writeLensElement(lens).replace('S-1100', 'S-1000');
    expect(refusal(`]d20109506000134352${'21SN1'}${GS}91${element}`)).toBe('label.lens-element');
  });

  it('warn of an element (91) in another notation, of needless separators and of a future date of making', () => {
    const text = `]d20109506000134352${GS}1127010121SN1${GS}91WHATEVER${GS}`;
    const codes = readLabel(text, { today }).warnings.map((warning) => warning.code);
    expect(codes).toEqual([
      'needless-separator',
      'needless-separator',
      'made-in-future',
      'foreign-lens-element',
    ]);
  });

  it('warn when the article number is on the other symbol of the pack', () => {
    expect(readLabel(']C11727123121SN1', { today }).warnings[0]?.code).toBe('no-gtin');
  });
});

describe('digital links', () => {
  const base = 'https://lens.example/01/09506000134352';
  it.each([
    ['qualifiers out of order', `${base}/21/1/10/A`, 'label.link'],
    ['an attribute in the path', `${base}/17/271231`, 'label.link'],
    ['no article', 'https://lens.example/about', 'label.link'],
    ['a broken percent sign', `${base}/21/A%2`, 'label.link'],
    ['an unknown number in the query', `${base}?99999=1`, 'label.link'],
    ['an identifier without its value', `${base}/21`, 'label.link'],
    ['13 digits', 'https://lens.example/01/9506000134352', 'label.length'],
    ['a wrong check digit', 'https://lens.example/01/09506000134353', 'label.check-digit'],
    ['a bad date', `${base}?17=270230`, 'label.date'],
    ['a serial in the path that the query contradicts', `${base}/21/A?21=B`, 'label.contradiction'],
  ])('refuse %s', (_, text, code) => expect(refusal(text)).toBe(code));

  it('read escaped characters of a serial', () => {
    expect(readLabel(`${base}/21/A%2F1`, { today }).serial).toBe('A/1');
  });
});

describe('HIBC labels', () => {
  const signed = (text: string) => {
    const alphabet = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-. $/+%';
    return text + alphabet[[...text].reduce((sum, c) => sum + alphabet.indexOf(c), 0) % 43];
  };

  it('come back as they were written', () => {
    const text = writeHibcLabel({
      labeller: 'L123',
      product: 'TORIC7',
      serial: 'SN0001',
      lot: 'AB12',
      expiresOn: '2029-11-30',
      madeOn: '2026-11-20',
    });
    expect(readLabel(text, { today })).toMatchObject({
      hibcPrimary: 'L123TORIC70',
      serial: 'SN0001',
      lot: 'AB12',
      expiresOn: '2029-11-30',
      madeOn: '2026-11-20',
      warnings: [],
    });
    expect(readLabel(`*${text}*`, { today }).serial).toBe('SN0001');
    expect(readLabel(`]C0${text}`, { today }).serial).toBe('SN0001');
  });

  it.each([
    ['$$1129LOT', { expiresOn: '2029-11-30', lot: 'LOT' }],
    ['$$2113029LOT', { expiresOn: '2029-11-30', lot: 'LOT' }],
    ['$$3291130LOT', { expiresOn: '2029-11-30', lot: 'LOT' }],
    ['$$429113023LOT', { expiresOn: '2029-11-30', lot: 'LOT' }],
    ['$$529334LOT', { expiresOn: '2029-11-30', lot: 'LOT' }],
    ['$$62933423LOT', { expiresOn: '2029-11-30', lot: 'LOT' }],
    ['$$7LOT', { lot: 'LOT' }],
    ['$$8103291130LOT', { expiresOn: '2029-11-30', lot: 'LOT' }],
    ['$$9000103291130LOT', { expiresOn: '2029-11-30', lot: 'LOT' }],
    ['$$+3291130SN1', { expiresOn: '2029-11-30', serial: 'SN1' }],
    ['$+SN1', { serial: 'SN1' }],
    ['$LOT', { lot: 'LOT' }],
    ['29334LOT', { expiresOn: '2029-11-30', lot: 'LOT' }],
    ['$$32911' + '30', { expiresOn: '2029-11-30' }],
  ])('read the secondary form %s', (secondary, fields) => {
    expect(readLabel(signed(`+L123TORIC70/${secondary}`), { today })).toMatchObject(fields);
    const linked = readLabel(signed(`+${secondary}Z`), { today });
    expect(linked).toMatchObject(fields);
    expect(linked.warnings.map((warning) => warning.code)).toContain('no-product');
  });

  it('take the day of a supplement over a month alone', () => {
    const reading = readLabel(signed('+L123TORIC70/$$1129LOT/14D20291115'), { today });
    expect(reading).toMatchObject({ expiresOn: '2029-11-15', warnings: [] });
  });

  it.each([
    ['a wrong check character', signed('+L123TORIC70').slice(0, -1) + '%', 'label.check-digit'],
    ['day 366 of a common year', signed('+L123TORIC70/$$529366L'), 'label.date'],
    ['month 13', signed('+L123TORIC70/$$1329L'), 'label.date'],
    ['30 February', signed('+L123TORIC70/$$3290230L'), 'label.date'],
    ['hour 24', signed('+L123TORIC70/$$429113024L'), 'label.date'],
    ['a date cut short', signed('+L123TORIC70/$$32911'), 'label.date'],
    ['a quantity cut short', signed('+L123TORIC70/$$81'), 'label.length'],
    ['a lot of 19 characters', signed(`+L123TORIC70/$${'A'.repeat(19)}`), 'label.length'],
    ['an unknown supplement', signed('+L123TORIC70/$LOT/X9'), 'label.unknown-element'],
    ['a bad supplement date', signed('+L123TORIC70/$LOT/14D20290230'), 'label.date'],
    ['two serials', signed('+L123TORIC70/$+A1/SB2'), 'label.contradiction'],
    ['two expiries', signed('+L123TORIC70/$$3291130L/14D20291129'), 'label.contradiction'],
    ['made after expiry', signed('+L123TORIC70/$$3251130L/16D20261129'), 'label.contradiction'],
    ['a lower-case letter', '+l123TORIC70G', 'label.character'],
    ['a labeller that begins with a digit', signed('+1L23X0'), 'label.length'],
    ['no unit of measure', signed('+L123TORICX'), 'label.length'],
    ['a lone plus', '+', 'label.length'],
  ])('refuse %s', (_, text, code) => expect(refusal(text)).toBe(code));
});

describe('serials alone', () => {
  it('are read as typed', () =>
    expect(readLabel('TRN-26-0042', { today })).toMatchObject({ scheme: 'serial', serial: 'TRN-26-0042' }));

  it.each(['ab12', 'A', 'A B 12', 'Ä1234', '-1234', 'A'.repeat(21)])('refuse %s', (text) => {
    expect(refusal(text)).toBe('label.unknown-scheme');
  });

  it('are refused from a maker whose labels say more', () => {
    expect(refusal('TRN-26-0042', ['gs1'])).toBe('label.scheme-not-expected');
  });
});

it('needs a real date of reading', () => {
  expect(() => readLabel('ABC123', { today: '2026-02-30' })).toThrow(LabelValueError);
});
