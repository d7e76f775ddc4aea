import { DomainError } from '@lensferry/domain';

/** Where a page begins: the key and the ties of the row beside it, and on which side of that row it lies. */
export interface Cursor {
  readonly sort: string;
  readonly side: 'after' | 'before';
  /** An instant or a day in milliseconds, a text, or null for a day that isn't set. */
  readonly key: number | string | null;
  readonly ties: readonly string[];
}

const unreadable = () =>
  new DomainError(
    'invalid',
    'list.cursor-unreadable',
    'This place in the list can no longer be found; begin at its first page.',
  );

export const writeCursor = ({ sort, side, key, ties }: Cursor): string =>
  Buffer.from(JSON.stringify([sort, side, key, ...ties])).toString('base64url');

const tie = /^([0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}|\d{1,18})$/;
/** Milliseconds of years with four digits at most. */
const isInstant = (key: unknown): boolean =>
  Number.isInteger(key) && (key as number) > -60e12 && (key as number) < 253e12;
const isKey = { instant: isInstant, day: (key: unknown) => key === null || isInstant(key), text: isText };

function isText(key: unknown): boolean {
  return typeof key === 'string' && key.length <= 200 && !key.includes('\0') && !/\p{Surrogate}/u.test(key);
}

/** @throws DomainError `list.cursor-unreadable` when it isn't a cursor of this list in this order. */
export function readCursor(text: string, sort: string, kind: keyof typeof isKey, ties: number): Cursor {
  let parts: unknown;
  try {
    parts = JSON.parse(Buffer.from(text, 'base64url').toString());
  } catch {
    throw unreadable();
  }
  if (!Array.isArray(parts)) throw unreadable();
  const [of, side, key, ...rest] = parts as unknown[];
  const fits =
    of === sort &&
    (side === 'after' || side === 'before') &&
    isKey[kind](key) &&
    rest.length === ties &&
    rest.every((one) => typeof one === 'string' && tie.test(one));
  if (!fits) throw unreadable();
  return { sort, side, key: key as Cursor['key'], ties: rest as string[] };
}
