import { parseCsv, UnreadableFile } from '@lensferry/calculation';
import { DesignSheet, type SheetDifference, type SheetFault } from '@lensferry/contracts';
import { hasGs1CheckDigit } from '@lensferry/domain';
import { csv } from '../platform/csv.js';
import { contradictionsIn, sheetFrom, type SheetValues } from './sheet-from.js';
import { sheetFields, type SheetField, type SheetRule } from './sheet-fields.js';

/** What a file is read against: the newest version of the design and its maker's currency. */
export interface PresentSheet {
  readonly code: string;
  readonly currency: string;
  readonly sheet: DesignSheet;
}

export interface ReadSheet {
  readonly faults: SheetFault[];
  /** Null exactly when there is a fault. */
  readonly sheet: DesignSheet | null;
}

const columns = ['field', 'unit', 'value'] as const;
const unitOf = (field: SheetField, currency: string): string =>
  field.unit === 'currency' ? currency : field.unit;

/** A sheet as comma-separated values (RFC 4180): a row for each thing that the design says. */
export function writeSheet({ code, currency, sheet }: PresentSheet): string {
  const rows = sheetFields.map((field) => [field.name, unitOf(field, currency), field.of(sheet, code)]);
  return csv([columns, ...rows]);
}

/**
 * Reads a sheet from a file and finds everything that is wrong with it at once. Commas, semicolons or tabs part the
 * cells; a decimal may have a comma, as some spreadsheets write it. Nothing is guessed: what isn't there is a fault.
 */
export function readSheet(file: string, present: PresentSheet): ReadSheet {
  const faults: SheetFault[] = [];
  const values: SheetValues = new Map();
  for (const [field, { row, cells }] of rowsByField(file, faults)) {
    const [, unit = '', value = ''] = cells;
    const wanted = unitOf(field, present.currency);
    if (unit !== wanted)
      faults.push(fault(row, 'unit', unit, `${field.name} is in ${wanted || 'no unit'}; write it so.`));
    if (value === '' && field.optional) continue;
    const read = valueOf(value, field.rule, present.code);
    if (typeof read === 'string') faults.push(fault(row, 'value', value, read));
    else values.set(field.name, { row, text: value, numbers: read });
  }
  if (faults.length === 0) faults.push(...contradictionsIn(values));
  faults.sort((a, b) => a.row - b.row);
  return { faults, sheet: faults.length === 0 ? sheetFrom(values, present.sheet) : null };
}

/** What a new sheet says differently, as the file's rows say it. */
export function differencesOf(present: PresentSheet, sheet: DesignSheet): SheetDifference[] {
  return sheetFields.flatMap((field) => {
    const before = field.of(present.sheet, present.code);
    const after = field.of(sheet, present.code);
    return before === after
      ? []
      : [{ field: field.name, unit: unitOf(field, present.currency), before, after }];
  });
}

const fault = (row: number, column: SheetFault['column'], value: string, message: string): SheetFault => ({
  row,
  column,
  value: value.slice(0, 80),
  message,
});

function rowsByField(file: string, faults: SheetFault[]): Map<SheetField, { row: number; cells: string[] }> {
  const found = new Map<SheetField, { row: number; cells: string[] }>();
  let rows: string[][];
  try {
    rows = parseCsv(file).map((row) => row.map(plainCell));
  } catch (error) {
    if (!(error instanceof UnreadableFile)) throw error;
    faults.push(fault(1, 'file', '', error.message));
    return found;
  }
  const [head = [], ...body] = rows;
  if (trimmed(head).join(',') !== columns.join(',')) {
    const message = `The first row must be ${columns.join(', ')}; begin with the file that is exported here.`;
    faults.push(fault(1, 'file', head.join(', '), message));
    return found;
  }
  body.forEach((cells, index) => {
    const row = index + 2;
    const [name = ''] = cells;
    const field = sheetFields.find((one) => one.name === name);
    if (trimmed(cells).length === 0) return;
    if (trimmed(cells).length > columns.length)
      faults.push(fault(row, 'value', cells.slice(2).join(', '), 'A row has three cells; quote a comma.'));
    else if (field === undefined)
      faults.push(fault(row, 'field', name, 'No such field; keep the names of the exported file.'));
    else if (found.has(field)) faults.push(fault(row, 'field', name, 'This field is there twice; keep one.'));
    else found.set(field, { row, cells });
  });
  const end = rows.length + 1;
  for (const field of sheetFields)
    if (!found.has(field) && !faults.some(({ column, value }) => column === 'field' && value === field.name))
      faults.push(fault(end, 'field', field.name, `The row ${field.name} is missing; put it back.`));
  return found;
}

/** Without the empty cells that a spreadsheet puts at the end of a row. */
function trimmed(cells: readonly string[]): readonly string[] {
  return cells.slice(0, cells.findLastIndex((cell) => cell !== '') + 1);
}

/** Takes away the apostrophe that keeps a spreadsheet from running a text as a formula. */
const plainCell = (cell: string): string => cell.trim().replace(/^'(?=[=+\-@])/, '');

/** The numbers of a cell (none for a text), or the sentence that says what to mend. */
function valueOf(value: string, rule: SheetRule, code: string): number[] | string {
  switch (rule.kind) {
    case 'design':
      return value === code ? [] : `This is the sheet of ${code}; choose the file of that design.`;
    case 'policy':
      return value === 'any' || value === 'fixed' ? [] : 'Write any or fixed.';
    case 'amount':
      return /^\d{1,10}\.\d{2}$/.test(value) ? [] : 'Write an amount with two decimals, such as 1240.00.';
    case 'gtin':
      return /^\d{14}$/.test(value) && hasGs1CheckDigit(value)
        ? []
        : 'Write all 14 digits of the GTIN as text, or leave it empty.';
    default:
      return numbersOf(value, rule);
  }
}

function numbersOf(value: string, rule: Extract<SheetRule, { min: number }>): number[] | string {
  const parts = rule.kind === 'list' ? value.split(/ +/) : [value];
  const limits = `from ${rule.min} to ${rule.max}`;
  const form = rule.whole === true ? /^-?\d{1,3}$/ : /^-?\d{1,3}([.,]\d{1,2})?$/;
  const shape = rule.whole === true ? 'whole number' : 'number with at most two decimals';
  const numbers = parts.map((part) => (form.test(part) ? Number(part.replace(',', '.')) : Number.NaN));
  if (numbers.some((number) => !(number >= rule.min && number <= rule.max)))
    return rule.kind === 'list'
      ? `Write each as a ${shape} ${limits}, with spaces between.`
      : `Write a ${shape} ${limits}.`;
  if (new Set(numbers).size < numbers.length) return 'Write each only once.';
  return numbers;
}
