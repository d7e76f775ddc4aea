import { csvLine } from '@lensferry/calculation';

export type Cell = string | number | null;

/** A file of comma-separated values, RFC 4180, safe to open in a spreadsheet. */
export const csv = (rows: readonly (readonly Cell[])[]): string =>
  rows.map((row) => `${csvLine(row)}\r\n`).join('');
