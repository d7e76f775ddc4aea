import { UnreadableFile } from './csv.js';
import { eyesFromCsv, plansToCsv } from './plan-csv.js';
import { planList } from './plan-list.js';
import type { PlanSettings } from './plan-types.js';

/** What the command has to print and how it ends. */
export interface PlannedFile {
  /** For standard output; empty when the file could not be read. */
  readonly output: string;
  /** One sentence for standard error when the file could not be read. */
  readonly problem?: string;
  /** 0: every eye computed; 1: some eye could not be; 2: the file could not be read. */
  readonly exitCode: 0 | 1 | 2;
}

/**
 * The whole command as a function of text: `{"eyes":[…]}` to `{"plans":[…]}`, or CSV to CSV with
 * `csv`. With `csv`, JSON input is recognised by its first character. Never throws for bad input.
 * @source docs/schema/plan-output.schema.json
 * @example planFile('{"eyes":[]}', { csv: false }).output // '{\n  "plans": []\n}\n'
 */
export function planFile(
  text: string,
  options: { readonly csv: boolean; readonly settings?: PlanSettings },
): PlannedFile {
  try {
    const body = text.replace(/^\uFEFF/, '');
    const json = !options.csv || /^\s*[{[]/.test(body);
    const plans = planList(json ? eyesFromJson(body) : eyesFromCsv(body), options.settings);
    const failed = plans.some((plan) => 'error' in plan);
    return {
      output: options.csv ? plansToCsv(plans) : `${JSON.stringify({ plans }, null, 2)}\n`,
      exitCode: failed ? 1 : 0,
    };
  } catch (error) {
    if (!(error instanceof UnreadableFile)) throw error;
    return { output: '', problem: error.message, exitCode: 2 };
  }
}

function eyesFromJson(body: string): unknown[] {
  if (body.trim() === '') throw new UnreadableFile('The file is empty.');
  let data: unknown;
  try {
    data = JSON.parse(body);
  } catch (error) {
    const detail = (error as Error).message.replace(/\s+/g, ' ');
    const hint = /^\s*[{["]/.test(body) ? '' : ' For a CSV file add --csv.';
    throw new UnreadableFile(`The file is not JSON (${detail}).${hint}`);
  }
  if (typeof data !== 'object' || data === null || Array.isArray(data)) {
    throw new UnreadableFile('The file must hold an object with a list "eyes".');
  }
  const unknown = Object.keys(data).filter((key) => key !== 'eyes');
  if (unknown.length > 0) {
    throw new UnreadableFile(
      `Beside "eyes" the file holds ${JSON.stringify(unknown[0])}, which is not known.`,
    );
  }
  const { eyes } = data as { eyes?: unknown };
  if (!Array.isArray(eyes)) throw new UnreadableFile('"eyes" must be a list.');
  return eyes;
}
