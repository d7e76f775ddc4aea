/** A file that cannot be read at all: one sentence that says what to mend. */
export class UnreadableFile extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'UnreadableFile';
  }
}

/**
 * The rows of a CSV text: comma, semicolon or tab (whichever the first line uses), quotes doubled
 * inside quotes, line ends of any kind, a byte-order mark and empty lines skipped.
 * Throws UnreadableFile for a quote that is never closed or text after a closing quote.
 * @source RFC 4180
 * @example parseCsv('a,b\n1,"2,5"') // [['a', 'b'], ['1', '2,5']]
 */
export function parseCsv(text: string): string[][] {
  const body = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  const separator = separatorOf(body);
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = '';
  let line = 1;
  let i = 0;
  const endRow = (): void => {
    row.push(cell);
    if (row.length > 1 || row[0]?.trim() !== '') rows.push(row);
    row = [];
    cell = '';
  };
  while (i < body.length) {
    const c = body[i] as string;
    if (c === '"' && cell.trim() === '') {
      const quoted = readQuoted(body, i, line);
      line += quoted.lines;
      cell = quoted.text;
      i = quoted.next;
      while (body[i] === ' ') i += 1;
      const after = body[i];
      if (after !== undefined && after !== separator && after !== '\n' && after !== '\r') {
        throw new UnreadableFile(`Line ${line} has text after a closing quote.`);
      }
      continue;
    }
    if (c === separator) {
      row.push(cell);
      cell = '';
    } else if (c === '\n' || c === '\r') {
      if (c === '\r' && body[i + 1] === '\n') i += 1;
      endRow();
      line += 1;
    } else {
      cell += c;
    }
    i += 1;
  }
  if (cell !== '' || row.length > 0) endRow();
  return rows;
}

/**
 * One CSV line without its end. Text that a spreadsheet would run as a formula gets an apostrophe. Never throws.
 * @source RFC 4180; formula injection: OWASP
 * @example csvLine(['a', 2.5, undefined, '=1+1']) // "a,2.5,,'=1+1"
 */
export function csvLine(cells: readonly (string | number | null | undefined)[]): string {
  return cells.map(csvCell).join(',');
}

function csvCell(value: string | number | null | undefined): string {
  if (value === null || value === undefined) return '';
  if (typeof value === 'number') return String(value);
  // A number, or a list of them, may begin with a minus; it is no formula.
  const formula = /^[=+\-@\t\r]/.test(value) && !/^-?\d+(\.\d+)?(;-?\d+(\.\d+)?)*$/.test(value);
  const text = formula ? `'${value}` : value;
  return /[",;\t\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

function separatorOf(body: string): string {
  const first = body.split(/[\r\n]/, 1)[0] ?? '';
  for (const candidate of [',', ';', '\t']) if (first.includes(candidate)) return candidate;
  return ',';
}

function readQuoted(
  body: string,
  start: number,
  line: number,
): { text: string; next: number; lines: number } {
  let text = '';
  let lines = 0;
  for (let i = start + 1; i < body.length; i += 1) {
    const c = body[i] as string;
    if (c === '"') {
      if (body[i + 1] !== '"') return { text, next: i + 1, lines };
      i += 1;
    }
    if (c === '\n') lines += 1;
    text += c;
  }
  throw new UnreadableFile(`The quote that opens on line ${line} is never closed.`);
}
