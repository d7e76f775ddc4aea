import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type {
  CaseDetail,
  CountRead,
  LensDetail,
  StockCountDetail,
  Today,
} from '../../packages/contracts/src/index.js';
import { openHouse, type House, type Person } from '../support/house.js';
import { playTo, sceneAt, scenery, type Scene } from '../support/scenes.js';

type Told = StockCountDetail & { code: string };
const why = 'The test asks for it.';

describe('counting what really stands in a place', () => {
  let house: House;
  let oona: Person;
  let est: string;
  beforeAll(async () => {
    house = await openHouse();
    oona = await house.signIn('oona');
    est = house.network.clinics.find(({ code }) => code === 'EST')!.id;
  });
  afterAll(() => house?.close());

  const start = (location: string, who = oona) =>
    who.post<Told>('/api/stock-counts', { clinicId: est, location });
  const read = async (id: string, text: string) =>
    (await oona.post<CountRead & { code: string }>(`/api/stock-counts/${id}/readings`, { text })).body;
  const show = async (id: string) => (await oona.get<StockCountDetail>(`/api/stock-counts/${id}`)).body;
  const lensOf = async ({ lensId }: Scene) => (await oona.get<LensDetail>(`/api/lenses/${lensId}`)).body;
  const close = async (id: string, explanations: object[], version?: number) =>
    oona.post<Told>(`/api/stock-counts/${id}/close`, {
      version: version ?? (await show(id)).version,
      explanations,
    });

  it('finds what is there, missing, in another place and on no record, and closes only when each is explained', async () => {
    const [here, gone, lost, elsewhere] = [
      await sceneAt(house, 'accepted'),
      await sceneAt(house, 'accepted'),
      await sceneAt(house, 'accepted'),
      await sceneAt(house, 'quarantined'),
    ];
    const other = await playTo(await sceneAt(house, 'shipped'), 'accepted');
    const before = await start('shelf 2');
    await read(before.body.id, (await lensOf(other)).serial);
    await close(before.body.id, [
      { serial: (await lensOf(other)).serial, explanation: 'stands_here', why: 'Somebody moved it.' },
    ]);
    expect(await lensOf(other)).toMatchObject({ location: 'shelf 2', state: 'reserved' });
    expect((await lensOf(other)).custody.at(-1)).toMatchObject({ event: 'relocate', place: 'shelf 2' });

    const { body: begun, status } = await start('Shelf 1');
    expect(status).toBe(201);
    expect(begun).toMatchObject({ expected: 4, found: 0, state: 'open' });
    expect((await start('shelf 1')).body.code).toBe('count.open');
    const pack = await scenery.packOf(here);
    expect(await read(begun.id, pack.text)).toMatchObject({ serial: pack.serial, verdict: 'here' });
    expect(await read(begun.id, pack.serial!.toLowerCase())).toMatchObject({ verdict: 'again' });
    expect(await read(begun.id, (await lensOf(elsewhere)).serial)).toMatchObject({ verdict: 'here' });
    expect(await read(begun.id, (await lensOf(other)).serial)).toMatchObject({ verdict: 'misplaced' });
    expect(await read(begun.id, 'NOBODYS-1')).toMatchObject({ verdict: 'unexpected' });
    const seen = await show(begun.id);
    expect(seen).toMatchObject({ expected: 4, found: 2, read: 4 });
    const [goneSerial, lostSerial] = [(await lensOf(gone)).serial, (await lensOf(lost)).serial];
    expect(seen.findings.map(({ kind, serial }) => [kind, serial])).toEqual([
      ...[goneSerial, lostSerial].sort().map((serial) => ['missing', serial]),
      ['misplaced', (await lensOf(other)).serial],
      ['unexpected', 'NOBODYS-1'],
    ]);
    expect((await oona.get<Today>('/api/today')).body.openCounts.map(({ id }) => id)).toContain(begun.id);

    const reasons = [
      {
        serial: goneSerial,
        explanation: 'stands_elsewhere',
        location: 'theatre 1',
        why: 'Laid out for today.',
      },
      { serial: lostSerial, explanation: 'lost', why: 'Not found after a search of two people.' },
      { serial: (await lensOf(other)).serial, explanation: 'put_back', why: 'Put back onto shelf 2.' },
      { serial: 'NOBODYS-1', explanation: 'kept_apart', why: 'No order of ours.' },
    ];
    expect((await close(begun.id, reasons.slice(1))).body.code).toBe('count.unexplained');
    const wrong = reasons.map((one, i) => (i === 0 ? { ...one, explanation: 'put_back' } : one));
    expect((await close(begun.id, wrong)).body.code).toBe('count.not-a-reason');
    expect((await close(begun.id, reasons, 1)).body.code).toBe('count.moved');
    // Nothing of the refused attempts was written.
    expect(await lensOf(gone)).toMatchObject({ location: 'shelf 1' });
    expect((await close(begun.id, reasons)).body).toMatchObject({ state: 'closed', expected: 4, found: 2 });
    expect(await lensOf(gone)).toMatchObject({ location: 'theatre 1', state: 'reserved' });
    expect(await lensOf(lost)).toMatchObject({ location: 'lost', state: 'discarded' });
    expect(await lensOf(other)).toMatchObject({ location: 'shelf 2' });
    const waiting = await oona.get<CaseDetail>(`/api/cases/${lost.caseId}`);
    expect(waiting.body.stage).toBe('planning');
    const { unexpected, openCounts } = (await oona.get<Today>('/api/today')).body;
    expect(unexpected.map(({ found }) => found['serial'])).toContain('NOBODYS-1');
    expect(openCounts.map(({ id }) => id)).not.toContain(begun.id);
    expect((await read(begun.id, 'NOBODYS-1')).code).toBe('count.ended');
    // A closed count keeps what it found, whatever happens afterwards.
    expect((await show(begun.id)).findings.map(({ explanation }) => explanation).sort()).toEqual(
      ['kept_apart', 'lost', 'put_back', 'stands_elsewhere'].sort(),
    );
  });

  it('is one at a time for a place, and can be given up', async () => {
    const begun = await Promise.all(Array.from({ length: 10 }, () => start('shelf 8')));
    const won = begun.filter(({ status }) => status === 201);
    expect(won).toHaveLength(1);
    for (const { status } of begun) expect([201, 409]).toContain(status);
    const { id, version } = won[0]!.body;
    const over = await oona.post<Told>(`/api/stock-counts/${id}/give-up`, { version, why });
    expect(over.body).toMatchObject({ state: 'given_up' });
    expect((await start('shelf 8')).status).toBe(201);
  });
});
