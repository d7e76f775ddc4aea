import { readdirSync, readFileSync } from 'node:fs';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { countDrawn, type DrawnModel, type Figure } from './figure-model';
import { FigurePicture } from './FigurePicture';
import { figures } from './figure-registry';
import { samples, sayIn } from './figure-samples';
import type { Say } from './say';

type Key = keyof typeof figures;
const keys = Object.keys(figures) as Key[];
const languages = {
  en: {
    say: sayIn('en'),
    followUp:
      /follow-up median \d|measured [\d.]+ days after surgery|from day 28 on, the latest of|sent from .*\d{4} to .*\d{4}/,
    units: /, (D|µm|mm|degrees|working days)$|^share of |^lines |^visit$|^acuity in metres/,
  },
  de: {
    say: sayIn('de'),
    followUp:
      /beobachtet im Median \d|Median [\d,]+ Tage nach der Operation|ab Tag 28, der letzte vom|vom .*\d{4} bis .*\d{4}/,
    units: /, (D|µm|mm|Grad|Arbeitstage)$|^Anteil der |^Zeilen |^Kontrolle$|^Sehschärfe in Metern/,
  },
} as const;

/** All figures of one entry of the registry, of so many eyes or orders. */
const drawn = (key: Key, say: Say, n: number, seed = 1): Figure[] =>
  (figures[key] as (say: Say, from: unknown) => Figure[])(say, samples[key](n, seed));
const axesOf = (model: DrawnModel): string[] =>
  model.kind === 'double-angle' ? [] : 'yLabel' in model ? [model.xLabel, model.yLabel] : [model.xLabel];
const pictureOf = (figure: Figure, { format }: Say): string =>
  renderToStaticMarkup(
    <FigurePicture figure={figure} says={{ share: format.percent, number: format.plain }} />,
  );

/** What a mark looks like to somebody who sees no colour: shape, dashes, hatching, weight. */
function looksOf(markup: string): Map<string, string> {
  const marks = [...markup.matchAll(/<(\w+)([^>]*?data-mark="([\w-]+)"[^>]*)>/g)];
  return new Map(
    marks.map(([, tag = '', attributes = '', mark = '']) => {
      const of = (name: string): string => new RegExp(` ${name}="([^"]*)"`).exec(attributes)?.[1] ?? '';
      const path = of('d');
      const shape =
        tag !== 'path'
          ? tag
          : /h0/.test(path)
            ? 'dots'
            : /^(M[\d.]+ [\d.]+V[\d.]+)*$/.test(path)
              ? 'strokes'
              : /h\d+M/.test(path)
                ? 'cross'
                : 'line';
      const fill = of('fill').startsWith('url')
        ? 'hatched'
        : of('fill') === 'var(--paper)'
          ? 'hollow'
          : 'plain';
      return [mark, [shape, of('stroke-dasharray'), fill].join(' ')];
    }),
  );
}

describe('the registry of figures', () => {
  it('has a sample for each of its entries, and draws something from it', () => {
    expect(Object.keys(samples).sort()).toEqual([...keys].sort());
    for (const key of keys) expect(drawn(key, languages.en.say, 40), key).not.toEqual([]);
  });

  it('is the only way from a figure to a screen', () => {
    const files = readdirSync('apps/admin/src/outcomes').filter((file) => !file.includes('.spec.'));
    const source = (file: string) => readFileSync(`apps/admin/src/outcomes/${file}`, 'utf8');
    const ones = files.filter((file) => /-figures\.ts$/.test(file));
    const registered = [...source('figure-registry.ts').matchAll(/from '\.\/([\w-]+-figures)'/g)];
    expect(registered.map(([, name]) => `${name}.ts`).sort()).toEqual(ones.sort());
    const drawing = files.filter((file) => source(file).includes('<svg'));
    expect(drawing).toEqual(['FigurePicture.tsx']);
    const importing = files.filter(
      (file) => file.endsWith('.tsx') && /import \{ \w+Figures?[ ,}].*-figures'/.test(source(file)),
    );
    expect(importing).toEqual([]);
  });
});

for (const [language, { say, followUp, units }] of Object.entries(languages))
  describe.each(keys)(`every figure of %s, in ${language}`, (key) => {
    const some = drawn(key, say, 40, 1);
    // Two sets of forty eyes may have a share in common; not five.
    const others = [2, 3, 4, 5, 6].flatMap((seed) => drawn(key, say, 40, seed));

    it('has a title that says what was found, with a number that follows the data', () => {
      for (const figure of some) {
        const other = others.filter(({ id }) => id === figure.id).map(({ finding }) => finding);
        expect(figure.finding, figure.id).toMatch(/\d/);
        expect(other, figure.id).toHaveLength(5);
        expect(new Set([figure.finding, ...other]).size, figure.id).toBeGreaterThan(1);
        expect(figure.finding, figure.id).not.toBe(figure.name);
        expect(figure.name, figure.id).not.toMatch(/undefined|NaN|%\{/);
      }
    });

    it('says what it rests on: n and follow-up', () => {
      for (const { id, basis } of some) {
        expect(basis, id).toMatch(/\b\d+ (eyes|Augen|orders|Bestellungen)|^n \d+/);
        expect(basis, id).toMatch(followUp);
      }
    });

    it('has units on its axes', () => {
      for (const figure of some) {
        for (const axis of axesOf(figure.model)) expect(axis, figure.id).toMatch(units);
        if (figure.model.kind === 'double-angle') {
          const picture = pictureOf(figure, say);
          expect(picture, figure.id).toMatch(/>[\d.]+ D</);
          expect(picture, figure.id).toContain('>45°<');
        }
      }
    });

    it('has a table with a row for whatever it draws, and a head for each column', () => {
      for (const { id, model, table } of some) {
        expect(countDrawn(model), id).toBeGreaterThan(0);
        expect(table.rows.length, id).toBeGreaterThanOrEqual(countDrawn(model));
        expect(new Set(table.head).size, id).toBe(table.head.length);
        for (const row of table.rows) expect(row, id).toHaveLength(table.head.length);
      }
    });

    it('has marks that differ by shape, dashes or hatching, and not by colour alone', () => {
      for (const figure of some) {
        const looks = looksOf(pictureOf(figure, say));
        expect(looks.size, figure.id).toBeGreaterThan(0);
        expect(new Set(looks.values()).size, `${figure.id}: ${[...looks].join(' | ')}`).toBe(looks.size);
      }
    });

    it('is not there without any eye, and says so much and no more of one', () => {
      expect(drawn(key, say, 0)).toEqual([]);
      for (const figure of drawn(key, say, 1)) {
        const { id, finding, basis, table, model } = figure;
        expect([finding, basis, ...table.rows.flat()].join(' '), id).not.toMatch(
          /undefined|NaN|Infinity|null|%\{/,
        );
        expect(pictureOf(figure, say), id).not.toMatch(/undefined|NaN|Infinity/);
        expect(finding, id).toMatch(/\d/);
        expect(basis, id).toMatch(/^(n )?1\b/);
        expect(table.rows.length, id).toBeGreaterThanOrEqual(countDrawn(model));
      }
    });
  });
