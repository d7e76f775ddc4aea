/** How the value of one GS1 application identifier is written. */
export interface Gs1Format {
  /** Shortest and longest value. */
  readonly min: number;
  readonly max: number;
  readonly numeric: boolean;
  /** The value ends in a check digit after this many digits. */
  readonly checkedLength?: number;
  /** A date YYMMDD stands first; day 00 is tolerated on reading where the standard allows it. */
  readonly date?: 'day-00' | 'whole';
  /** A time HHMM follows the date. */
  readonly time?: boolean;
}

const fixed = (length: number, more: Partial<Gs1Format> = {}): Gs1Format => ({
  min: length,
  max: length,
  numeric: true,
  ...more,
});
const text = (max: number): Gs1Format => ({ min: 1, max, numeric: false });
const digits = (max: number): Gs1Format => ({ min: 1, max, numeric: true });
const range = (from: number, to: number, format: Gs1Format): [string, Gs1Format][] =>
  Array.from({ length: to - from + 1 }, (_, i) => [String(from + i), format]);

/**
 * The application identifiers that may stand on a lens pack, a parcel or a maker's paper. Weights, prices and
 * food identifiers are left out on purpose: one of them on a lens means a misread, and is refused.
 * @source GS1 General Specifications, section 3.2; formats as in the GS1 Barcode Syntax Dictionary.
 */
export const GS1_ELEMENTS: ReadonlyMap<string, Gs1Format> = new Map<string, Gs1Format>([
  ['00', fixed(18, { checkedLength: 18 })],
  ['01', fixed(14, { checkedLength: 14 })],
  ['02', fixed(14, { checkedLength: 14 })],
  ['03', fixed(14, { checkedLength: 14 })],
  ['10', text(20)],
  ['11', fixed(6, { date: 'day-00' })],
  ['12', fixed(6, { date: 'day-00' })],
  ['13', fixed(6, { date: 'day-00' })],
  ['15', fixed(6, { date: 'day-00' })],
  ['16', fixed(6, { date: 'day-00' })],
  ['17', fixed(6, { date: 'day-00' })],
  ['20', fixed(2)],
  ['21', text(20)],
  ['22', text(20)],
  ['30', digits(8)],
  ['37', digits(8)],
  ['235', text(28)],
  ['240', text(30)],
  ['241', text(30)],
  ['242', digits(6)],
  ['243', text(20)],
  ['250', text(30)],
  ['251', text(30)],
  ['400', text(30)],
  ['401', text(30)],
  ['402', fixed(17, { checkedLength: 17 })],
  ['403', text(30)],
  ...range(410, 417, fixed(13, { checkedLength: 13 })),
  ['420', text(20)],
  ['422', fixed(3)],
  ...range(710, 717, text(20)),
  ['7003', fixed(10, { date: 'whole', time: true })],
  ['7240', text(20)],
  ['8012', text(20)],
  ['8013', text(25)],
  ['8020', text(25)],
  ['8200', text(70)],
  ['90', text(30)],
  ...range(91, 99, text(90)),
]);

const PREDEFINED = new Set([
  '00',
  '01',
  '02',
  '03',
  '11',
  '12',
  '13',
  '14',
  '15',
  '16',
  '17',
  '18',
  '19',
  '20',
  '41',
]);

/**
 * True when elements that begin so have a predefined length and need no separator after them.
 * @source GS1 General Specifications, figure 7.8.5-2 (of it, the part that {@link GS1_ELEMENTS} uses).
 */
export function hasPredefinedLength(identifier: string): boolean {
  return PREDEFINED.has(identifier.slice(0, 2));
}

/** The longest known identifier (2 to 4 digits) with which the text begins, or null. */
export function identifierAt(text: string, position: number): string | null {
  for (const length of [4, 3, 2]) {
    const candidate = text.slice(position, position + length);
    if (candidate.length === length && GS1_ELEMENTS.has(candidate)) return candidate;
  }
  return null;
}
