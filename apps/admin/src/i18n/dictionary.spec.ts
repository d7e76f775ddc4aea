import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { exchangeReasons } from '@lensferry/contracts';
import {
  actors,
  awaited,
  caseStages,
  lensStates,
  measurementKinds,
  orderEvents,
  orderStates,
  permissions,
  returnEvents,
  returnStates,
  roles,
} from '@lensferry/domain';
import { describe, expect, it } from 'vitest';
import { places } from '../frame/places';
import { stepForms } from '../orders/order-steps';
import { sectionsOf } from '../today/sections';
import { words } from '../shell/words';
import de from './de';
import en from './en';

type Tree = { [key: string]: string | Tree };
const flat = (tree: Tree, prefix = ''): Record<string, string> =>
  Object.entries(tree).reduce<Record<string, string>>(
    (all, [key, value]) =>
      typeof value === 'string'
        ? { ...all, [prefix + key]: value }
        : { ...all, ...flat(value, `${prefix}${key}.`) },
    {},
  );
const english = flat(en as unknown as Tree);
const german = flat(de as unknown as Tree);

const root = fileURLToPath(new URL('..', import.meta.url));
const sources = readdirSync(root, { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.tsx?$/.test(name) && !name.includes('.spec.') && !name.startsWith('i18n/'))
  .map((name) => ({ name, text: readFileSync(join(root, name), 'utf8') }));
const sections = Object.keys(en);
/** Every string in the source that looks like a key: it begins with the name of a section and goes on with a point. */
const used = sources.flatMap(({ name, text }) =>
  [...text.matchAll(/['"`]([a-z]+(?:\.[A-Za-z_0-9-]+)+)['"]/g)]
    .map(([, key]) => key ?? '')
    .filter((key) => sections.includes(key.split('.')[0] ?? ''))
    .map((key) => ({ name, key })),
);
/** Strings of the same shape that are no keys: the first part of one, a permission, a path into a form. */
const prefixes = Object.keys(english).map((key) => key.split('.').slice(0, -1).join('.'));
const formPaths = ['identity.name', 'identity.birthDate', 'identity.recordNumber'];
const blanksOf = (text: string) => [...text.matchAll(/%\{(\w+)\}/g)].map(([, name]) => name).sort();

describe('the dictionaries', () => {
  it('have the same keys', () => {
    expect(Object.keys(german).sort()).toEqual(Object.keys(english).sort());
    expect(Object.keys(words.de).sort()).toEqual(Object.keys(words.en).sort());
  });

  it('fill in the same values in both languages', () => {
    for (const [key, text] of Object.entries(english))
      expect([...new Set(blanksOf(german[key] ?? ''))], key).toEqual([...new Set(blanksOf(text))]);
  });

  it('have as many plural forms in both languages', () => {
    for (const [key, text] of Object.entries(english))
      expect((german[key] ?? '').split('||||').length, key).toBe(text.split('||||').length);
  });

  it('have every key that a screen asks for', () => {
    expect(used.length).toBeGreaterThan(300);
    const known = new Set([...Object.keys(english), ...prefixes, ...Object.keys(permissions), ...formPaths]);
    expect(used.filter(({ key }) => !known.has(key))).toEqual([]);
  });

  it.each([
    ['order.state', orderStates],
    ['lens.state', lensStates],
    ['return.state', returnStates],
    ['stage', caseStages],
    ['waiting', Object.keys(awaited)],
    ['next.wait', Object.keys(awaited)],
    ['role', actors],
    ['kind', Object.keys(measurementKinds)],
    ['measure.hint', Object.keys(measurementKinds)],
    ['field', Object.values(measurementKinds).flatMap((fields) => fields.map(({ name }) => name))],
    ['choice', choices()],
    ['exchange.reason', exchangeReasons],
    ['step.order', Object.keys(stepForms)],
    ['step.return', returnEvents],
    ['return.consequence', returnEvents],
    ['action.order', orderEvents],
    ['action.return', returnEvents],
    ['place', places.map(({ name }) => name)],
    ['today.section', sectionsOf.administrator],
    ['today.say', sectionsOf.administrator],
    ['today.empty_for', roles],
  ])('speak of every %s', (prefix, names) => {
    for (const name of names)
      expect(Object.keys(english), `${prefix}.${name}`).toContain(`${prefix}.${name}`);
  });
});

function choices(): string[] {
  return Object.values(measurementKinds)
    .flatMap((fields) => [...fields])
    .flatMap((field) => (field.type === 'choice' ? [...field.choices] : []))
    .map((choice) => choice.replaceAll('.', '_'));
}
