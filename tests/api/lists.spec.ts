import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PersonSummary } from '../../packages/contracts/src/index.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { readOpenApi, type OpenApi } from '../support/open-api.js';

interface PeoplePage {
  items: PersonSummary[];
  total: number;
  next: string | null;
  previous: string | null;
}

/** Lists that are no pages, and what keeps each of them short. */
const short: Record<string, string> = {
  '/api/account/sessions': 'one person’s sessions, which end by themselves',
  '/api/people/{id}/sessions': 'one person’s sessions, which end by themselves',
  '/api/invitations': 'open links, which last 72 hours',
  '/api/clinics': 'clinics of the network',
  '/api/makers': 'makers of the network',
  '/api/limits': 'limits of the network, as many as the domain has',
  '/api/search': 'the nearest few of each kind',
  '/api/parcels': 'unexpected parcels that nobody has placed yet, the first 100',
  '/api/stock-counts': 'counts under way and the last twenty, with the places where something stands',
  '/api/transfers': 'lenses between clinics, the first 200',
  '/api/orders/{id}/fitting-lenses': 'free lenses that one order asks for, of the first 200',
  '/api/outcomes/models': 'designs of the network',
  '/api/outcomes/vault': 'vault models of the designs',
  '/api/outcomes/visits': 'visits that are waited for, the first 500',
  '/api/outcomes/makers': 'makers of the network',
  '/api/today': 'what waits for somebody now, each list cut off',
};

describe('lists', () => {
  let house: House;
  let ada: Person;
  let document: OpenApi;
  beforeAll(async () => {
    house = await openHouse();
    ada = await house.signIn('ada');
    ({ document } = await readOpenApi(house));
  });
  afterAll(() => house?.close());

  it('are pages, or are on the list of those that are short by their nature', () => {
    const lists = Object.entries(document.paths).flatMap(([path, { get }]) => {
      const schema = get?.responses['200']?.content?.['application/json']?.schema;
      if (schema === undefined || !isList(schema, document)) return [];
      return [{ path, paged: get?.parameters?.some(({ name }) => name === 'perPage') ?? false }];
    });
    expect(lists.filter(({ paged }) => paged).map(({ path }) => path)).toEqual(
      expect.arrayContaining(
        ['cases', 'orders', 'lenses', 'returns', 'people', 'audit', 'ledger'].map((name) => `/api/${name}`),
      ),
    );
    expect(lists.filter(({ paged, path }) => !paged && !(path in short))).toEqual([]);
  });

  const people = async (query: string, who = ada) => (await who.get<PeoplePage>(`/api/people?${query}`)).body;
  const namesOf = ({ items }: PeoplePage) => items.map(({ name }) => name);

  it('of people are cut into pages that lead on and back', async () => {
    const all = await people('perPage=200&sort=code');
    expect(namesOf(all)).toHaveLength(12);
    expect(all).toMatchObject({ total: 12, next: null, previous: null });
    const first = await people('perPage=5&sort=code');
    const second = await people(`perPage=5&sort=code&cursor=${first.next}`);
    const third = await people(`perPage=5&sort=code&cursor=${second.next}`);
    expect([...namesOf(first), ...namesOf(second), ...namesOf(third)]).toEqual(namesOf(all));
    expect(third.next).toBeNull();
    expect(namesOf(await people(`perPage=5&sort=code&cursor=${third.previous}`))).toEqual(namesOf(second));
    expect((await people(`perPage=5&sort=code&cursor=${second.previous}`)).previous).toBeNull();
  });

  it('of people are searched, kept to roles and to a clinic, and begin with the newest account', async () => {
    expect(namesOf(await people('q=MARSH'))).toEqual(['Una Marsh']);
    expect(namesOf(await people('q=oona@'))).toEqual(['Oona Reef']);
    const surgeons = await people('state=surgeon&sort=code');
    expect(surgeons.items.map(({ role }) => role)).toEqual(['surgeon', 'surgeon', 'surgeon']);
    const { id } = house.network.clinics.find(({ code }) => code === 'NOR')!;
    const there = await people(`clinicId=${id}&perPage=200`);
    expect(there.items.every(({ clinics }) => clinics.some((clinic) => clinic.id === id))).toBe(true);
    const newest = await people('sort=recent&perPage=200');
    const ids = newest.items.map((person) => person.id);
    expect(ids).toEqual([...ids].sort().reverse());
  });

  it('of people say nothing of clinics that are not one’s own, and take no other list’s place', async () => {
    const una = await house.signIn('una');
    const { items } = await people('perPage=200', una);
    expect(items.flatMap(({ clinics }) => clinics.map(({ code }) => code))).toEqual(items.map(() => 'EST'));
    const foreign = house.network.clinics.find(({ code }) => code === 'NOR')!.id;
    expect((await people(`clinicId=${foreign}`, una)).items).toEqual([]);
    const orders = Buffer.from(JSON.stringify(['due', 'after', 1, ada.cookie])).toString('base64url');
    const refused = await ada.get<{ code: string }>(`/api/people?cursor=${orders}`);
    expect(refused).toMatchObject({ status: 400, body: { code: 'list.cursor-unreadable' } });
  });
});

/** Whether an answer is a list: an array of its own, or an object of `items`. */
function isList(schema: unknown, document: OpenApi): boolean {
  const { $ref, type, properties } = schema as {
    $ref?: string;
    type?: string;
    properties?: Record<string, unknown>;
  };
  if ($ref !== undefined)
    return isList(document.components.schemas[$ref.split('/').at(-1) ?? ''] ?? {}, document);
  return type === 'array' || 'items' in (properties ?? {});
}
