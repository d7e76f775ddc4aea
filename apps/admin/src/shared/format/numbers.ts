/** Between a number and its unit: narrow, and never at the end of a line. */
export const THIN = '\u202f';
const MINUS = '\u2212';

export interface Sphere {
  sphereD: number;
  cylinderD: number;
  axisDeg: number | null;
}

export type NumberFormat = ReturnType<typeof numberFormatOf>;

/** How numbers of the trade are written in a language: true minus signs, units after a thin space, × for axis. */
export function numberFormatOf(locale: string) {
  const fixed = (digits: number, signDisplay: 'auto' | 'exceptZero' = 'auto') => {
    let format: Intl.NumberFormat | undefined;
    const made = () =>
      (format ??= new Intl.NumberFormat(locale, {
        minimumFractionDigits: digits,
        maximumFractionDigits: digits,
        signDisplay,
        useGrouping: false,
      }));
    // A rounded −0.001 would read "−0.00"; adding 0 after rounding turns it into a plain zero.
    return (value: number) =>
      made()
        .format(Number(value.toFixed(digits)) + 0)
        .replace('-', MINUS);
  };
  const signed = fixed(2, 'exceptZero');
  const two = fixed(2);
  const one = fixed(1);
  const whole = fixed(0);
  const signedWhole = fixed(0, 'exceptZero');
  const money = new Map<string, Intl.NumberFormat>();
  const plain = new Intl.NumberFormat(locale, { maximumFractionDigits: 3 });
  const axis = (axisDeg: number) => whole(Math.round(axisDeg) % 180 === 0 ? 180 : axisDeg);
  const power = (value: Sphere, separator: string) =>
    value.cylinderD === 0 || value.axisDeg === null
      ? signed(value.sphereD)
      : `${signed(value.sphereD)}${separator}${signed(value.cylinderD)} × ${axis(value.axisDeg)}`;
  return {
    /** `−9.25 / −4.75 × 32` */
    lens: (value: Sphere) => power(value, ' / '),
    /** `−9.25 −4.75 × 32`, as it goes onto a specification. */
    lensOnOrder: (value: Sphere) => power(value, ' '),
    dioptres: (value: number) => `${signed(value)}${THIN}D`,
    diopterRange: (low: number, high: number) => `${signed(low)} … ${signed(high)}${THIN}D`,
    keratometry: (value: number) => `${one(value)}${THIN}D`,
    degrees: (value: number) => `${whole(value)}°`,
    /** A turn with its direction said by the sign. */
    turn: (value: number) => `${signedWhole(value)}°`,
    mm: (value: number) => `${two(value)}${THIN}mm`,
    um: (value: number) => `${whole(value)}${THIN}µm`,
    umRange: (low: number, high: number) => `${whole(low)}–${whole(high)}${THIN}µm`,
    percent: (share: number) => `${whole(share * 100)}${THIN}%`,
    whole,
    plain: (value: number) => plain.format(value).replace('-', MINUS),
    withUnit: (value: number, unit: string) =>
      unit === ''
        ? plain.format(value).replace('-', MINUS)
        : unit === '°'
          ? `${plain.format(value).replace('-', MINUS)}°`
          : `${plain.format(value).replace('-', MINUS)}${THIN}${unit}`,
    money(amount: string, currency: string): string {
      const known =
        money.get(currency) ??
        new Intl.NumberFormat(locale, { style: 'currency', currency, currencyDisplay: 'code' });
      money.set(currency, known);
      return known.format(Number(amount));
    },
  };
}
