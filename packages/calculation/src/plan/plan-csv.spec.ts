import { describe, expect, it } from 'vitest';
import { good, whole } from '../../../../tests/support/plan-eyes.js';
import { INPUT_COLUMNS, OUTPUT_COLUMNS, planFile, planList, type Plan } from '../index.js';
import { parseCsv } from './csv.js';

describe('CSV', () => {
  const cells: Record<string, string> = {
    id: 'A1',
    eye: 'OD',
    'refraction.sphereD': '\u22128.00',
    'refraction.cylinderD': '-4',
    'refraction.axisDeg': '30',
    'refraction.vertexMm': '12',
    'keratometry.flatD': '46',
    'keratometry.steepD': '50',
    'keratometry.steepAxisDeg': '130',
    anteriorChamberDepthMm: '3.1',
    cornealThicknessUm: '500',
    sulcusMm: '11.6',
    sizesMm: '12 12.5;13',
  };
  const file = (glue = ',', end = '\n'): string =>
    [Object.keys(cells), Object.values(cells).map((c) => (c.includes(glue) ? `"${c}"` : c))]
      .map((row) => row.join(glue) + end)
      .join('');
  const rows = (text: string): Record<string, string>[] => {
    const [head = [], ...body] = parseCsv(text);
    return body.map((row) => Object.fromEntries(head.map((name, i) => [name, row[i] ?? ''])));
  };

  it('gives the same numbers as JSON', () => {
    const { output, exitCode } = planFile(file(), { csv: true });
    expect(exitCode).toBe(0);
    const [row] = rows(output);
    const [same] = planList([{ ...good, sulcusMm: 11.6, sizesMm: [12, 12.5, 13] }]) as Plan[];
    expect(Number(row?.['idealLens.axisDeg'])).toBe(same?.idealLens.axisDeg);
    expect(Number(row?.suggestedLengthMm)).toBe(same?.suggestedLengthMm);
    expect(row?.['sizes.vaultUm.p50']?.split(';').map(Number)).toEqual(same?.sizes.map((s) => s.vaultUm.p50));
    expect(row?.['findings.code']?.split(';')).toEqual(same?.findings.map((f) => f.code));
  });

  it('is read with a byte-order mark, any line end, semicolons, tabs and quotes', () => {
    const expected = planFile(file(), { csv: true });
    for (const text of [
      `\uFEFF${file()}`,
      file(',', '\r\n'),
      file(',', '\r'),
      file(';'),
      file('\t'),
      `${file()}\n\n`,
    ]) {
      expect(planFile(text, { csv: true })).toEqual(expected);
    }
  });

  it('keeps quotes, separators and line breaks inside a cell', () => {
    const odd = planFile(file().replace('A1', '"A ""1"", left\nbelow"'), { csv: true });
    expect(rows(odd.output)[0]?.id).toBe('A "1", left\nbelow');
  });

  it('refuses an eye by its cell, and a decimal comma with it', () => {
    const { output, exitCode } = planFile(file(';').replace('3.1', '3,1'), { csv: true });
    expect(exitCode).toBe(1);
    expect(rows(output)[0]).toMatchObject({
      id: 'A1',
      'error.field': 'anteriorChamberDepthMm',
      'error.value': '3,1',
    });
  });

  it.each([
    ['', 'The file is empty.'],
    ['id,nose\nA,1', 'Column "nose" is not known'],
    ['id,id\nA,1', 'Column id is there twice.'],
    ['id,eye\nA,OD,3', 'Row 1 has 3 cells'],
    ['id,eye\n"A,OD', 'The quote that opens on line 2 is never closed.'],
    ['id,eye\n"A"x,OD', 'Line 2 has text after a closing quote.'],
  ])('that is broken is answered with one sentence: %j', (text, problem) => {
    const answer = planFile(text, { csv: true });
    expect(answer.exitCode).toBe(2);
    expect(answer.problem).toContain(problem);
  });

  it('does not hand formulas to a spreadsheet', () => {
    const { output } = planFile(file().replace('A1', '=1+2'), { csv: true });
    expect(rows(output)[0]?.id).toBe("'=1+2");
    expect(rows(output)[0]?.['sizes.vaultUm.p10']).not.toContain("'");
  });

  it('has a column for every field and takes JSON in as well', () => {
    expect(INPUT_COLUMNS).toContain('keratometry.index');
    const { output } = planFile(JSON.stringify({ eyes: [whole] }), { csv: true });
    expect(parseCsv(output)[0]).toEqual(OUTPUT_COLUMNS);
    expect(parseCsv(output)[1]).toHaveLength(OUTPUT_COLUMNS.length);
  });
});
