/**
 * A number as people type it: with a comma or a point, a hyphen or a true minus, a plus, spaces around. Nothing
 * typed is undefined; what is no number is NaN, which the schema refuses.
 */
export function parseNumber(text: string): number | undefined {
  const plain = text.trim().replaceAll('\u2212', '-').replace(',', '.');
  if (plain === '') return undefined;
  return /^[+-]?\d+(\.\d*)?$|^[+-]?\.\d+$/.test(plain) ? Number(plain) : Number.NaN;
}
