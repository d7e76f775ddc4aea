import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const path = (from: string): string => fileURLToPath(new URL(from, import.meta.url));
const command = path('./plan.mjs');
const example = path('../../docs/schema/plan-example.json');

interface Ended {
  code: number | null;
  out: string;
  err: string;
}

function plan(args: string[], input: string | Uint8Array = ''): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [command, ...args], {
      env: { ...process.env, INIT_CWD: undefined },
    });
    const ended = { out: '', err: '' };
    child.stdout.on('data', (chunk) => (ended.out += chunk));
    child.stderr.on('data', (chunk) => (ended.err += chunk));
    child.on('error', reject);
    child.on('close', (code) => resolve({ code, ...ended }));
    // A command that refuses its arguments ends without reading.
    child.stdin.on('error', () => undefined);
    child.stdin.end(input);
  });
}

// The first of them may have to build the packages.
describe('the plan command', { timeout: 120_000 }, () => {
  it('reads a file and prints plans and nothing else', async () => {
    const { code, out } = await plan([example]);
    expect(code).toBe(0);
    const { plans } = JSON.parse(out);
    expect(plans.map((p: { id: string }) => p.id)).toEqual(['sulcus-measured', 'white-to-white-only']);
    expect(plans[0].predictedRefraction.cylinderD).toBeLessThanOrEqual(0);
  });

  it('reads standard input and ends with 1 when an eye cannot be computed', async () => {
    const eyes = JSON.parse(readFileSync(example, 'utf8')).eyes;
    eyes[0].refraction.axisDeg = 181;
    const { code, out } = await plan(['-'], JSON.stringify({ eyes }));
    expect(code).toBe(1);
    const { plans } = JSON.parse(out);
    expect(plans[0].error.field).toBe('refraction.axisDeg');
    expect(plans[1].idealLens.cylinderD).toBeLessThan(0);
  });

  it('reads and writes CSV', async () => {
    const { code, out } = await plan([path('../../docs/schema/plan-example.csv'), '--csv']);
    expect(code).toBe(0);
    expect(out.split('\r\n').map((line) => line.split(',')[0])).toEqual([
      'id',
      'sulcus-measured',
      'unmeasured-width',
      '',
    ]);
  });

  it.each<[string, string[], string | Uint8Array, string]>([
    ['a file that is not there', ['nowhere.json'], '', 'nowhere.json cannot be read: there is no such file.'],
    ['a folder', [path('.')], '', 'it is a folder.'],
    ['no file', [], '', 'Give exactly one file'],
    ['an option it does not know', ['-', '--tsv'], '', "Unknown option '--tsv'"],
    ['an empty input', ['-'], '', 'The file is empty.'],
    ['broken JSON', ['-'], '{"eyes":[', 'The file is not JSON'],
    ['bytes that are not UTF-8', ['-'], new Uint8Array([0x7b, 0xff, 0xfe]), 'it is not UTF-8 text'],
  ])('answers %s with one sentence and exit code 2', async (_what, args, input, sentence) => {
    const { code, out, err } = await plan(args, input);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(sentence);
    expect(err.trim().split('\n')).toHaveLength(1);
  });
});
