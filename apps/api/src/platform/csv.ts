export type Cell = string | number | null;

/**
 * Comma-separated values, RFC 4180. A text that a spreadsheet would take for a formula gets an apostrophe; a plain
 * decimal such as `-120.00` is none.
 */
export function csv(rows: readonly (readonly Cell[])[]): string {
  const cell = (value: Cell): string => {
    if (value === null) return '';
    if (typeof value === 'number') return String(value);
    const formula = /^[=+\-@\t\r]/.test(value) && !/^-\d+(\.\d+)?$/.test(value);
    const safe = formula ? `'${value}` : value;
    return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
  };
  return rows.map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}
