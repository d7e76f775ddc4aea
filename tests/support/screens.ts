import { readFileSync } from 'node:fs';
import type { House } from './house.js';

/** A screen's address, with what stands for its parameters. */
export interface Screen {
  readonly route: string;
  readonly path: string;
}

/** What each parameter of a route may be; several values are several screens. */
export type Things = Readonly<Record<string, readonly string[]>>;

/**
 * Every screen of the admin, read off its table of pages, so that a new one is covered the day it appears. `things` names
 * what stands for `:id` by what is before it (`cases`, `lenses/counts`), and for other parameters by resource and name (`cases.part`); a
 * resource that isn't named there is an error.
 */
export function screensOf(things: Things): Screen[] {
  return routesOf(readFileSync('apps/admin/src/pages.tsx', 'utf8')).flatMap((route) =>
    pathsOf(route, things).map((path) => ({ route, path })),
  );
}

const routesOf = (source: string): string[] =>
  [...source.matchAll(/^ {2}'(\/[^']*)': later\(/gm)].map(([, route = '']) => route);

function pathsOf(route: string, things: Things): string[] {
  const [first = '', ...rest] = route.split('/').filter(Boolean);
  let paths = [`/${first}`];
  const fixed = [first];
  for (const part of rest) {
    if (!part.startsWith(':')) {
      fixed.push(part);
      paths = paths.map((path) => `${path}/${part}`);
      continue;
    }
    const name = part.replace(/[:?]/g, '');
    const values = things[name === 'id' ? fixed.join('/') : `${first}.${name}`];
    if (values === undefined && !part.endsWith('?'))
      throw new Error(`Say in \`things\` what ${route} shows.`);
    const longer = paths.flatMap((path) => (values ?? []).map((value) => `${path}/${value}`));
    paths = part.endsWith('?') ? [...paths, ...longer] : longer;
  }
  return paths;
}

/** A count of a shelf that has begun. */
export async function countOf(house: House): Promise<string> {
  const oona = await house.signIn('oona');
  const clinicId = house.network.clinics.find(({ code }) => code === 'EST')!.id;
  const { body } = await oona.post<{ id: string }>('/api/stock-counts', { clinicId, location: 'shelf 1' });
  return body.id;
}
