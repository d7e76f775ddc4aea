import { csvLine, parseCsv, UnreadableFile } from './csv.js';
import type { FailedPlan } from './plan-list.js';
import type { Finding, Plan, PlannedSize } from './plan-types.js';
import { PLAN_FIELDS } from './read-plan-input.js';

/** Columns of the input: the JSON fields, nested ones as `refraction.sphereD`. */
export const INPUT_COLUMNS: readonly string[] = Object.entries(PLAN_FIELDS).flatMap(([field, nested]) =>
  nested.length === 0 ? [field] : nested.map((n) => `${field}.${n}`),
);

const TEXT_COLUMNS = new Set(['id', 'eye']);

/**
 * The eyes of a CSV text as the JSON would hold them: one row an eye, an empty cell a field that was
 * left out, several lengths in one cell separated by spaces or semicolons. A cell that is no number
 * stays text, so that the eye is refused with the field named.
 * Throws UnreadableFile for a broken file or an unknown or doubled column.
 */
export function eyesFromCsv(text: string): unknown[] {
  const [header, ...rows] = parseCsv(text);
  if (header === undefined) throw new UnreadableFile('The file is empty.');
  const columns = header.map((name) => name.trim());
  columns.forEach((name, i) => {
    if (!INPUT_COLUMNS.includes(name)) {
      throw new UnreadableFile(
        `Column ${JSON.stringify(name)} is not known; known are ${INPUT_COLUMNS.join(', ')}.`,
      );
    }
    if (columns.indexOf(name) !== i) throw new UnreadableFile(`Column ${name} is there twice.`);
  });
  return rows.map((row, i) => {
    if (row.length > columns.length) {
      throw new UnreadableFile(
        `Row ${i + 1} has ${row.length} cells but there are ${columns.length} columns.`,
      );
    }
    return eyeFromRow(columns, row);
  });
}

function eyeFromRow(columns: readonly string[], row: readonly string[]): unknown {
  const eye: Record<string, unknown> = {};
  columns.forEach((column, i) => {
    const cell = (row[i] ?? '').trim();
    if (cell === '') return;
    const [field = column, nested] = column.split('.');
    const value = valueOf(column, cell);
    if (nested === undefined) {
      eye[field] = value;
    } else {
      const group = (eye[field] ?? {}) as Record<string, unknown>;
      group[nested] = value;
      eye[field] = group;
    }
  });
  return eye;
}

function valueOf(column: string, cell: string): unknown {
  if (TEXT_COLUMNS.has(column)) return cell;
  if (column === 'sizesMm')
    return cell
      .split(/[\s;|]+/)
      .filter(Boolean)
      .map(numberOf);
  return numberOf(cell);
}

/** A plain decimal number, true minus signs included; anything else stays text and is refused later. */
function numberOf(cell: string): number | string {
  const plain = cell.replace(/^\u2212/, '-');
  return /^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(plain) ? Number(plain) : cell;
}

const INTERVAL = ['p10', 'p50', 'p90'] as const;
const LENS = ['sphereD', 'cylinderD', 'axisDeg'] as const;

const ERROR_COLUMNS = ['error.code', 'error.field', 'error.value', 'error.range', 'error.message'] as const;

/** Columns of the output; lists are separated by semicolons inside their cell, messages by ` | `. */
export const OUTPUT_COLUMNS: readonly string[] = [
  'id',
  ...LENS.map((f) => `idealLens.${f}`),
  ...LENS.map((f) => `predictedRefraction.${f}`),
  'expected.withinHalfD',
  'expected.withinOneD',
  ...INTERVAL.map((p) => `expected.sphericalEquivalentD.${p}`),
  ...INTERVAL.map((p) => `expected.cylinderD.${p}`),
  'sizes.lengthMm',
  ...INTERVAL.map((p) => `sizes.vaultUm.${p}`),
  'sizes.low',
  'sizes.intended',
  'sizes.high',
  'suggestedLengthMm',
  'findings.code',
  'findings.level',
  'findings.message',
  ...ERROR_COLUMNS,
];

/** The plans as CSV with a header line, each line ended by CR LF. */
export function plansToCsv(plans: readonly (Plan | FailedPlan)[]): string {
  const lines = [
    csvLine(OUTPUT_COLUMNS),
    ...plans.map((plan) => csvLine('error' in plan ? failedCells(plan) : planCells(plan))),
  ];
  return lines.map((line) => `${line}\r\n`).join('');
}

type Cell = string | number | undefined;

function planCells(plan: Plan): Cell[] {
  const { expected, sizes, findings } = plan;
  const list = (pick: (size: PlannedSize) => number): string => sizes.map(pick).join(';');
  const said = (pick: (finding: Finding) => string, glue: string): string => findings.map(pick).join(glue);
  return [
    plan.id,
    ...LENS.map((f) => plan.idealLens[f]),
    ...LENS.map((f) => plan.predictedRefraction?.[f]),
    expected.withinHalfD,
    expected.withinOneD,
    ...INTERVAL.map((p) => expected.sphericalEquivalentD[p]),
    ...INTERVAL.map((p) => expected.cylinderD[p]),
    list((s) => s.lengthMm),
    ...INTERVAL.map((p) => list((s) => s.vaultUm[p])),
    list((s) => s.low),
    list((s) => s.intended),
    list((s) => s.high),
    plan.suggestedLengthMm,
    said((f) => f.code, ';'),
    said((f) => f.level, ';'),
    said((f) => f.message, ' | '),
    ...blank(ERROR_COLUMNS.length),
  ];
}

function failedCells(plan: FailedPlan): Cell[] {
  const { code, field, value, range, message } = plan.error;
  const shown = typeof value === 'number' || value === undefined ? value : String(value);
  return [
    plan.id ?? undefined,
    ...blank(OUTPUT_COLUMNS.length - 1 - ERROR_COLUMNS.length),
    code,
    field,
    shown,
    range,
    message,
  ];
}

function blank(count: number): undefined[] {
  return Array.from({ length: count }, () => undefined);
}
