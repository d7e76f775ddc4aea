import { createHash } from 'node:crypto';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SetClock } from '../../apps/api/dist/platform/clock.js';
import { fromBase32, hotp, stepAt } from '../../apps/api/dist/people/totp.js';
import { makeAsk, type Ask } from '../support/ask.js';
import { openHouse, password, until, type House, type Person } from '../support/house.js';
import { asSuperuser, type Superuser } from '../support/superuser.js';
import { sceneAt } from '../support/scenes.js';

const why = 'The test asks for it.';
/** Nothing is wrong with it but that it is known from a breach. */
const breached = 'seven herons on the jetty';

describe('accounts', () => {
  let house: House;
  let root: Superuser;
  let ask: Ask;
  let folder: string;
  let ada: Person;
  const clock = new SetClock(new Date());
  const later = (seconds: number): void => clock.set(new Date(clock.now().getTime() + seconds * 1000));
  const enter = (name: string, more: object = {}) =>
    ask('POST', '/api/session', { body: { email: `${name}@lensferry.example`, password, ...more } });
  const codeOf = (secret: string): string => hotp(fromBase32(secret), stepAt(clock.now()));
  const idOf = async (name: string): Promise<string> =>
    (await root.rows('select id from person where email = $1', [`${name}@lensferry.example`]))[0]!['id'];

  async function enrol(person: Person): Promise<{ secret: string; codes: string[] }> {
    const offered = await person.post<{ secret: string; qrRows: string[] }>('/api/account/second-factor', {
      password,
    });
    const { secret, qrRows } = offered.body;
    expect(qrRows.length).toBeGreaterThan(20);
    expect(qrRows.every((row) => row.length === qrRows.length)).toBe(true);
    const confirmed = await person.post<{ codes: string[] }>('/api/account/second-factor/confirm', {
      code: codeOf(secret),
    });
    expect(confirmed.status).toBe(200);
    return { secret, codes: confirmed.body.codes };
  }

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'lensferry-accounts-'));
    const list = join(folder, 'breached.txt');
    await writeFile(list, `${createHash('sha1').update(breached).digest('hex').toUpperCase()}:7\n`);
    house = await openHouse({
      clock,
      environment: { REQUIRE_SECOND_FACTOR: '1', BREACHED_PASSWORDS: list },
    });
    root = await asSuperuser(house.db);
    ask = makeAsk(house);
  });
  afterAll(async () => {
    await root?.close();
    await house?.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('ask for our own header even to sign in', async () => {
    const answer = await house.app.inject({
      method: 'POST',
      url: '/api/session',
      payload: { email: 'una@lensferry.example', password },
    });
    expect(answer.statusCode).toBe(403);
    expect(answer.headers['set-cookie']).toBeUndefined();
  });

  it('let a surgeon do nothing before the second factor is set up, and everything after', async () => {
    const ilse = await house.signIn('ilse');
    expect((await ilse.get('/api/session')).body).toMatchObject({ secondFactor: 'needed' });
    expect(await ilse.get('/api/today')).toMatchObject({
      status: 403,
      body: { code: 'person.second-factor-needed' },
    });
    await enrol(ilse);
    expect((await ilse.get('/api/today')).status).toBe(200);
    expect(await ilse.post('/api/account/second-factor/remove', { password })).toMatchObject({ status: 422 });
    expect((await (await house.signIn('una')).get('/api/today')).status).toBe(200);
  });

  it('take a code once, a recovery code once, and neither of another time', async () => {
    const oona = await house.signIn('oona');
    const { secret, codes } = await enrol(oona);
    expect(await enter('oona')).toMatchObject({ status: 401, json: { code: 'session.code-needed' } });
    expect((await enter('oona', { code: codeOf(secret) })).status).toBe(401);
    later(30);
    const code = codeOf(secret);
    const both = await Promise.all([enter('oona', { code }), enter('oona', { code })]);
    expect(both.map(({ status }) => status).sort()).toEqual([200, 401]);
    expect((await enter('oona', { code: codes[3]!.toLowerCase() })).status).toBe(200);
    expect((await enter('oona', { code: codes[3]! })).status).toBe(401);
    const kept = await root.rows(
      'select totp_sealed, code_hash from person join recovery_code on person_id = id',
    );
    expect(JSON.stringify(kept)).not.toContain(secret);
    expect(JSON.stringify(kept)).not.toContain(codes[0]);
  });

  it('throttle guessing of codes, and of the password where it is asked for once more', async () => {
    const tries = [];
    for (let i = 0; i < 5; i += 1) tries.push((await enter('oona', { code: '000000' })).status);
    expect(tries.at(-1)).toBe(429);
    later(16 * 60);
    const scene = await sceneAt(house, 'submitted');
    const ilse = { id: await idOf('ilse') };
    await root.rows(`update person set totp_confirmed_at = null where id = $1`, [ilse.id]);
    const surgeon = await house.signIn('ilse');
    await root.rows(`update person set totp_confirmed_at = now() where id = $1`, [ilse.id]);
    const [order] = await root.rows('select version, specification_hash from lens_order where id = $1', [
      scene.orderId,
    ]);
    const sign = (given: string) =>
      surgeon.post(`/api/orders/${scene.orderId}/sign`, {
        version: order!['version'],
        specificationHash: order!['specification_hash'],
        password: given,
      });
    for (let i = 0; i < 5; i += 1) expect((await sign('not it')).status).toBe(400);
    expect((await sign(password)).status).toBe(429);
    later(16 * 60);
    expect((await sign(password)).status).toBe(200);
  });

  it('list sessions, end one, and end the others with a new password that is no common one', async () => {
    const [here, there, third] = [
      await house.signIn('jonas'),
      await house.signIn('jonas'),
      await house.signIn('jonas'),
    ];
    const { items } = (
      await here.get<{ items: { id: string; current: boolean; idleEndsAt: string }[] }>(
        '/api/account/sessions',
      )
    ).body;
    expect(items).toHaveLength(3);
    expect(items.filter(({ current }) => current)).toHaveLength(1);
    const [foreign] = await root.rows('select id from session where person_id <> $1', [await idOf('jonas')]);
    const end = (id: string) => ask('DELETE', `/api/account/sessions/${id}`, { as: here });
    expect((await end(foreign!['id'])).status).toBe(404);
    const [, other] = [0, items.find(({ current }) => !current)!];
    expect((await end(other.id)).status).toBe(204);
    const alive = async (person: Person) => (await person.get('/api/session')).status;
    expect([await alive(there), await alive(third)].sort()).toEqual([200, 401]);
    const change = (newPassword: string) => here.post('/api/account/password', { password, newPassword });
    // A common word, a clinic's name, which everybody here would guess first, and what others know already.
    for (const weak of ['Password2026!', 'NorthlightEyeHouse1', 'harbour-row-2026', breached])
      expect(await change(weak)).toMatchObject({ status: 400, body: { code: 'person.weak-password' } });
    expect((await change('violet harbour sings')).status).toBe(204);
    expect([await alive(here), await alive(there), await alive(third)]).toEqual([200, 401, 401]);
  });

  it('are not joined with a password that is known from a breach; the link stays', async () => {
    ada = await house.signIn('ada');
    await enrol(ada);
    const [clinic] = await root.rows('select id from clinic order by code limit 1');
    const made = await ada.post<{ path: string }>('/api/invitations', {
      name: 'Wenna Tarn',
      email: 'wenna@lensferry.example',
      role: 'inventory',
      clinicIds: [clinic!['id']],
    });
    expect(made.status).toBe(201);
    const token = made.body.path.split('=')[1];
    const accept = (newPassword: string) =>
      ask('POST', '/api/invitations/accept', { body: { token, newPassword } });
    expect(await accept(breached)).toMatchObject({ status: 400, json: { code: 'person.weak-password' } });
    expect((await accept('violet harbour sings')).status).toBe(204);
  });

  it('end a leaver’s sessions and live updates at once, and keep the last administrator', async () => {
    await house.app.listen(0, '127.0.0.1');
    const { port } = house.app.getHttpServer().address() as { port: number };
    const una = await house.signIn('una');
    const stream = await fetch(`http://127.0.0.1:${port}/api/events`, { headers: { cookie: una.cookie } });
    const reader = stream.body!.getReader();
    await reader.read();
    let over = false;
    void (async () => {
      while (!(await reader.read()).done);
      over = true;
    })();
    await until(
      async () =>
        (await root.rows(`select 1 from pg_stat_activity where query like 'listen lensferry%'`)).length > 0,
      'the process listening',
    );
    const unaId = await idOf('una');
    expect((await una.post(`/api/people/${unaId}/deactivate`, { why })).status).toBe(403);
    expect((await ada.post(`/api/people/${unaId}/deactivate`, { why })).body).toMatchObject({
      active: false,
    });
    expect((await una.get('/api/session')).status).toBe(401);
    expect((await enter('una')).status).toBe(401);
    await until(async () => over, 'the stream to end');
    expect(await ada.post(`/api/people/${await idOf('ada')}/deactivate`, { why })).toMatchObject({
      status: 422,
      body: { code: 'person.last-administrator' },
    });
    const recorded = await root.rows(`select why, facts from audit_entry where action = 'person.deactivate'`);
    expect(recorded.length).toBeGreaterThan(0);
    expect(recorded[0]).toMatchObject({ why, facts: { personId: unaId } });
    expect(recorded[0]!['facts'].sessionsEnded).toBeGreaterThan(0);
  });
});
