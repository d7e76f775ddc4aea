import { randomInt } from 'node:crypto';
import pg from 'pg';
import { readSettings } from '../config.js';
import { SetClock } from '../platform/clock.js';
import { Database } from '../platform/database.js';
import { SealedBox } from '../platform/sealed-box.js';
import type { Actor } from '../platform/work.js';
import type { Cast, Clinic } from './cast.js';
import { dice } from './eyes.js';
import { makeNetwork } from './make-network.js';
import { clinics, makers, people } from './network.js';
import { contributeToPool } from '../outcomes/contribute-to-pool.js';
import { stories } from './stories.js';
import { tell } from './tell.js';

const loader: Actor = { kind: 'worker', personId: null, name: 'Demo', clinicIds: [] };
const seed = 20_260_101;

/** Loads the demo network: its people and makers as settings, its cases through the product's own use cases. */
async function load(): Promise<void> {
  const settings = readSettings();
  const folder = process.env['DATA_DIR'] ?? '.lensferry';
  await startAfresh(settings.DATABASE_URL);
  const now = new Date();
  const box = new SealedBox(settings.IDENTITY_KEY);
  const open = (clock: SetClock): Database => new Database(hasty(settings.DATABASE_URL), 2, clock, box);
  const database = open(new SetClock(now));
  const password = process.env['DEMO_PASSWORD'] ?? inventPassword();
  const network = await makeNetwork(database, box, {
    password,
    folder,
    simulator: process.env['SIMULATOR_URL'] ?? null,
  });
  // Clinics know nothing of each other, so their pasts are told side by side, each by its own clock.
  await Promise.all(
    network.clinics.map((clinic) => tellClinic(clinic, { ...network, ...withClock(open, now) }, now)),
  );
  await contributeToPool(database);
  await database.work(loader, async ({ tx }) => {
    await tx.networkSetting.update({ where: { key: 'demo' }, data: { value: 'loaded' } });
  });
  await database.close();
  console.log(
    `${stories.length} cases in ${clinics.length} clinics, ${makers.length} makers, ${people.length} people`,
  );
}

function withClock(open: (clock: SetClock) => Database, now: Date): Pick<Cast, 'database' | 'clock'> {
  const clock = new SetClock(now);
  return { database: open(clock), clock };
}

/** Plays the moments of all of a clinic's cases in the order of time. */
async function tellClinic(clinic: Clinic, cast: Cast, now: Date): Promise<void> {
  const moments = stories
    .map((story, index) => ({ story, index }))
    .filter(({ story }) => story.clinic === clinic.code)
    .flatMap(({ story, index }) => tell(cast, story, index, dice(seed + index * 7919), now))
    .map((moment, order) => ({ ...moment, order }))
    .sort((a, b) => a.at.getTime() - b.at.getTime() || a.order - b.order);
  for (const { at, run } of moments) {
    cast.clock.set(at);
    await run();
  }
  await cast.database.close();
}

/** A demo that is lost with the power is loaded again, so its commits need not wait for the disk. */
function hasty(databaseUrl: string): string {
  const url = new URL(databaseUrl);
  url.searchParams.set('options', '-c synchronous_commit=off');
  return url.toString();
}

/** Clears what a loader that was interrupted left behind. @throws Error when the database holds real data. */
async function startAfresh(databaseUrl: string): Promise<void> {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    const { rows } = await client.query<{ state: string | null; people: number }>(
      `select (select value #>> '{}' from network_setting where key = 'demo') as state, (select count(*)::int from person) as people`,
    );
    const [{ state, people: known } = { state: null, people: 0 }] = rows;
    if (state === null && known > 0)
      throw new Error('This database holds real data; the demo is only loaded into an empty one.');
    if (state === 'loaded') throw new Error('The demo is already loaded into this database.');
    const tables = await client.query<{ name: string }>(
      `select quote_ident(tablename) as name from pg_tables where schemaname = 'public' and tablename <> '_prisma_migrations'`,
    );
    await client.query(`truncate ${tables.rows.map(({ name }) => name).join(', ')} cascade`);
    await client.query(`insert into network_setting (key, value) values ('demo', '"loading"')`);
  } finally {
    await client.end();
  }
}

/** Three parts that are easy to type, different on every machine. */
function inventPassword(): string {
  const words = [
    'harbour',
    'lantern',
    'meadow',
    'copper',
    'willow',
    'granite',
    'saffron',
    'thimble',
    'juniper',
    'orchard',
  ];
  const word = (): string => words[randomInt(words.length)] ?? 'harbour';
  return `${word()}-${randomInt(1000, 10_000)}-${word()}`;
}

await load();
