import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { newKey, readSettings } from '../../apps/api/dist/config.js';
import type { Database } from '../../apps/api/dist/platform/database.js';
import { foundNetwork } from '../../apps/api/dist/people/clinics.store.js';
import { buildServer, openDatabase } from '../../apps/api/dist/server.js';
import { freshDatabase, type FreshDatabase } from '../support/fresh-database.js';

const first = {
  code: 'HOL',
  name: 'Hollow Lane Eye Clinic',
  timeZone: 'Europe/Zurich',
  adminName: 'Wynne Carrick',
  adminEmail: 'wynne@hollow.example',
};
const newPassword = 'seven quiet harbours';

describe('a network from nothing', () => {
  let db: FreshDatabase;
  let database: Database;
  let app: Awaited<ReturnType<typeof buildServer>>;
  beforeAll(async () => {
    db = await freshDatabase();
    const settings = readSettings({ DATABASE_URL: db.databaseUrl, IDENTITY_KEY: newKey(), PORT: '1' });
    database = openDatabase(settings);
    app = await buildServer(settings, database);
    await app.init();
  });
  afterAll(async () => {
    await app?.close();
    await database?.close();
    await db?.drop();
  });
  const call = async (method: 'GET' | 'POST', url: string, payload?: object, cookie?: string) => {
    const answer = await app.inject({
      method,
      url,
      headers: { 'x-lensferry': '1', ...(cookie ? { cookie } : {}) },
      ...(payload ? { payload } : {}),
    });
    const set = answer.headers['set-cookie'];
    return {
      status: answer.statusCode,
      body: answer.payload === '' ? {} : answer.json(),
      cookie: String(Array.isArray(set) ? set[0] : set).split(';')[0] ?? '',
    };
  };

  it('begins with a clinic and a link for its administrator, once; others are added and invited from there', async () => {
    await expect(foundNetwork(database, { ...first, timeZone: 'Middle/Earth' })).rejects.toMatchObject({
      code: 'clinic.zone',
    });
    const { path } = await foundNetwork(database, first);
    await expect(foundNetwork(database, first)).rejects.toMatchObject({ code: 'network.founded' });
    const token = path.split('join=')[1];
    expect((await call('POST', '/api/invitations/accept', { token, newPassword })).status).toBeLessThan(300);
    const { cookie, status } = await call('POST', '/api/session', {
      email: first.adminEmail,
      password: newPassword,
    });
    expect(status).toBe(200);

    const second = { code: 'VAL', name: 'Vale Eye House', timeZone: 'Europe/Lisbon' };
    const taken = await call('POST', '/api/clinics', { ...second, code: 'HUT' }, cookie);
    expect(taken).toMatchObject({ status: 409, body: { code: 'clinic.letter' } });
    const same = await call('POST', '/api/clinics', { ...second, name: first.name }, cookie);
    expect(same).toMatchObject({ status: 409, body: { code: 'clinic.exists' } });
    const added = await call('POST', '/api/clinics', second, cookie);
    expect(added).toMatchObject({ status: 201, body: second });
    const session = await call('GET', '/api/session', undefined, cookie);
    expect(session.body.clinics.map(({ code }: { code: string }) => code).sort()).toEqual(['HOL', 'VAL']);

    const surgeon = { name: 'Ives Orme', email: 'ives@vale.example', role: 'surgeon' };
    const invited = await call(
      'POST',
      '/api/invitations',
      { ...surgeon, clinicIds: [added.body.id] },
      cookie,
    );
    expect(invited.status).toBe(201);
    expect((await call('GET', '/api/today', undefined, cookie)).status).toBe(200);
    expect((await call('GET', '/api/makers', undefined, cookie)).body.items).toEqual([]);
  });
});
