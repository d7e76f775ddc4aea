import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findFreePort } from '../../../apps/launcher/src/free-port.mjs';
import { startMember } from '../../../apps/launcher/src/member.mjs';
import { until } from '../../support/house.js';
import { ask, manyAsks, middle } from './many-asks.js';
import { loadNetwork, type Load } from './network.js';

const orders = Number(process.env['LIST_ORDERS'] ?? 20_000);
const turns = Number(process.env['TURNS'] ?? 7);
const turnMs = 2000;
const wanted = 2.5;

/** The product's own server and one written by hand, on the same rows, asked in turns. */
describe('lists and cases against a handler written by hand', { timeout: 900_000 }, () => {
  let load: Load;
  let folder: string;
  let cookie: string;
  const members: ReturnType<typeof startMember>[] = [];
  const ports = { ours: 0, raw: 0 };
  beforeAll(async () => {
    load = await loadNetwork(orders);
    folder = await mkdtemp(join(tmpdir(), 'lensferry-load-'));
    const { db, settings } = load.house;
    for (const [name, script] of [
      ['ours', 'apps/api/dist/main.js'],
      ['raw', 'tests/bench/load/raw-server.mjs'],
    ] as const) {
      ports[name] = await findFreePort();
      const env = {
        ...process.env,
        DATABASE_URL: db.databaseUrl,
        IDENTITY_KEY: settings.IDENTITY_KEY,
        PORT: String(ports[name]),
        REQUESTS_PER_MINUTE: '10000000',
      };
      members.push(startMember({ name, script, env, logFile: join(folder, `${name}.log`) }));
    }
    ({ cookie } = await load.house.signIn('una'));
    for (const name of ['ours', 'raw'] as const)
      await until(() => ask(addressOf(name, listOf('accepted')), cookie).catch(() => null), name, 60_000);
  }, 600_000);
  afterAll(async () => {
    for (const member of members) await member.stop();
    await load?.close();
    if (folder) await rm(folder, { recursive: true, force: true });
  });
  const addressOf = (name: 'ours' | 'raw', path: string) => `http://127.0.0.1:${ports[name]}${path}`;
  const listOf = (state: string) => `/api/orders?state=${state}&sort=recent&perPage=25`;

  it('answers with the same orders', async () => {
    const [ours, raw] = await Promise.all(
      (['ours', 'raw'] as const).map(
        async (name) => JSON.parse(await ask(addressOf(name, listOf('accepted')), cookie)).items,
      ),
    );
    const shared = Object.keys(raw[0]).filter((name) => name in ours[0] && name !== 'change');
    expect(shared.length).toBeGreaterThan(25);
    for (const field of shared)
      expect(ours.map((order: Record<string, unknown>) => order[field])).toEqual(
        raw.map((order: Record<string, unknown>) => order[field]),
      );
  });

  it.each([
    ['25 orders that have ended', () => listOf('accepted')],
    ['25 orders under way, ours with their forecasts', () => listOf('acknowledged')],
    ['a case with all its parts', () => `/api/cases/${load.caseId}`],
  ])('takes for %s at most %s as long', async (what, pathOf) => {
    for (const hands of [1, 8]) {
      const rates = { ours: [] as number[], raw: [] as number[] };
      for (let turn = 0; turn < turns; turn += 1)
        for (const name of ['ours', 'raw'] as const)
          rates[name].push(await manyAsks(addressOf(name, pathOf()), { cookie, hands, forMs: turnMs }));
      const times = middle(rates.raw.map((raw, turn) => raw / (rates.ours[turn] ?? Number.NaN)));
      console.log(
        `${times <= wanted ? '✓' : '✗'} ${what}, ${hands} at a time: ours ${middle(rates.ours).toFixed(0)} a second, by hand ${middle(rates.raw).toFixed(0)}: ${times.toFixed(2)} times as long (wanted: ${wanted})`,
      );
    }
  });
});
