import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isPlainDate } from './calendar-dates.js';
import { hasGs1CheckDigit, hibcCheckCharacter } from './check-characters.js';
import { LabelError } from './label-error.js';
import type { LabelReading } from './label-reading.js';
import { readLabel } from './read-label.js';
import { writeBracketedLabel, writeGs1Label, writeHibcLabel } from './write-label.js';

const today = '2026-11-25';
const coded = ['gs1', 'gs1-digital-link', 'hibc'] as const;

const content = {
  gtin: '09506000134352',
  serial: 'SN0001',
  lot: 'ABC123',
  expiresOn: '2029-11-30',
  madeOn: '2026-11-20',
  lens: {
    eye: 'RIGHT' as const,
    sphereD: -9.25,
    cylinderD: -4.75,
    axisDeg: 32,
    lengthMm: 12.5,
    caseCode: 'EST-0042R',
  },
};
const hibc = { labeller: 'L123', product: 'TORIC7', serial: 'SN0001', lot: 'AB12', expiresOn: '2029-11-30' };
const valid = [
  writeGs1Label(content),
  writeGs1Label(content).slice(3),
  writeBracketedLabel(content),
  'https://id.gs1.org/01/09506000134352/10/ABC123/21/12345?17=271231',
  writeHibcLabel(hibc),
  '+A99912345/$10X3/16D20111231/14D202001313',
  `+$$3291130LOTZ${hibcCheckCharacter('+$$3291130LOTZ')}`,
];

/** The reading, null when refused; anything but a LabelError is a crash and fails the test. */
function tryRead(text: string, accept?: readonly (typeof coded)[number][]): LabelReading | null {
  try {
    return readLabel(text, accept ? { today, accept } : { today });
  } catch (error) {
    if (error instanceof LabelError) return null;
    throw new Error(`crash on ${JSON.stringify(text)}`, { cause: error });
  }
}

function isTrustworthy(reading: LabelReading): boolean {
  if (reading.gtin !== undefined && !hasGs1CheckDigit(reading.gtin)) return false;
  for (const date of [reading.expiresOn, reading.madeOn])
    if (date !== undefined && !isPlainDate(date)) return false;
  for (const text of [reading.serial, reading.lot]) {
    if (text !== undefined && !/^[!"%&'()*+,\-./0-9:;<=>?A-Z_a-z]{1,20}$/.test(text)) return false;
  }
  return true;
}

const noise = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 60 }),
  fc.string({
    unit: fc.constantFrom(...'0123456789()]d2C1Q3e0+$/*AZ\u001d\u241d=?&% \u0000'),
    maxLength: 80,
  }),
  fc.stringMatching(/^\]d2(01[0-9]{14}|17[0-9]{6}|10[A-Z0-9]{1,22}\x1d|21[a-z#]{1,4}){1,5}$/),
  fc.stringMatching(
    /^\+[A-Z][A-Z0-9]{5,12}[0-9](\/\$\$?\+?[0-9]{3,9}[A-Z]{0,4})?(\/1[46]D[0-9]{8})?[0-9A-Z]$/,
  ),
  fc.stringMatching(/^https:\/\/a\/01\/[0-9]{14}(\/21\/[A-Z%0-9]{1,6})?(\?17=[0-9]{6})?$/),
);

const mutation = fc
  .record({
    base: fc.constantFrom(...valid),
    at: fc.nat(200),
    kind: fc.constantFrom('replace', 'drop', 'insert', 'swap', 'cut', 'double'),
    character: fc.string({
      unit: fc.oneof(
        fc.constantFrom(...'0123456789ABCXYZ()+-$/\u001d#é'),
        fc.string({ minLength: 1, maxLength: 1 }),
      ),
      minLength: 1,
      maxLength: 1,
    }),
  })
  .map(({ base, at, kind, character }) => {
    const i = at % base.length;
    const [head, here, tail] = [base.slice(0, i), base.charAt(i), base.slice(i + 1)];
    const text = {
      replace: head + character + tail,
      drop: head + tail,
      insert: head + character + here + tail,
      swap: head + tail.charAt(0) + here + tail.slice(1),
      cut: head,
      double: head + here + here + tail,
    }[kind];
    return { base, kind, text };
  });

describe('100,000 strings through the label reader', () => {
  it('never crash, and what is accepted has true check digits, dates and characters', () => {
    fc.assert(
      fc.property(noise, (text) => {
        const reading = tryRead(text);
        return reading === null || isTrustworthy(reading);
      }),
      { numRuns: 50_000, seed: 20261125 },
    );
  }, 60_000);

  it('never crash when they are damaged valid labels, and none is read as another unit by its check', () => {
    fc.assert(
      fc.property(mutation, ({ base, kind, text }) => {
        const reading = tryRead(text, coded);
        if (reading === null) return true;
        const before = tryRead(base) as LabelReading;
        // One replaced character always breaks a check digit, so an accepted label still names the same article
        // and lens or, where the damage hit its identifier, none.
        const same =
          kind !== 'replace' ||
          ((reading.gtin === undefined || reading.gtin === before.gtin) &&
            (reading.lens === undefined || JSON.stringify(reading.lens) === JSON.stringify(before.lens)) &&
            (reading.scheme !== 'hibc' || text === base));
        return isTrustworthy(reading) && same;
      }),
      { numRuns: 50_000, seed: 42 },
    );
  }, 60_000);
});

describe('every single wrong character', () => {
  const label = writeGs1Label(content);
  const span = (value: string) => [label.indexOf(value), value.length] as const;
  const others = [...'0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ#~é\u0000'];

  it('in the article number is refused', () => {
    const [from, length] = span(content.gtin);
    for (let i = from; i < from + length; i += 1) {
      for (const other of others) {
        if (other === label[i]) continue;
        expect(tryRead(label.slice(0, i) + other + label.slice(i + 1))).toBeNull();
      }
    }
  });

  it('in a HIBC label is refused, because any substitution breaks modulo 43', () => {
    const text = writeHibcLabel(hibc);
    for (let i = 0; i < text.length; i += 1) {
      for (const other of [...others, ...'-. $/+%']) {
        if (other === text[i]) continue;
        expect(tryRead(text.slice(0, i) + other + text.slice(i + 1), coded)).toBeNull();
      }
    }
  });

  it('in the expiry either makes another real date or is refused: of all 10^6 six-digit dates only days pass', () => {
    const [from] = span('17291130');
    let days = 0;
    for (let n = 0; n < 1_000_000; n += 37) {
      const digits = String(n).padStart(6, '0');
      const [mm, dd] = [Number(digits.slice(2, 4)), Number(digits.slice(4))];
      const reading = tryRead(`]d20109506000134352${'17'}${digits}`);
      if (mm < 1 || mm > 12 || dd > 31) expect(reading).toBeNull();
      if (reading) {
        expect(isPlainDate(reading.expiresOn as string)).toBe(true);
        if (dd > 0) expect(reading.expiresOn?.slice(2).replaceAll('-', '')).toBe(digits);
        days += 1;
      }
    }
    expect(from).toBeGreaterThan(0);
    expect(days).toBeGreaterThan(900);
  });

  it('outside set 82 anywhere is refused', () => {
    for (let i = 3; i < label.length; i += 1) {
      for (const other of ['#', '@', '~', '|', 'é', '\u0000', '🙂']) {
        expect(tryRead(label.slice(0, i) + other + label.slice(i + 1))).toBeNull();
      }
    }
  });
});
