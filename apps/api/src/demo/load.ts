import { randomBytes, randomInt } from 'node:crypto';
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import pg from 'pg';
import { v7 as uuid } from 'uuid';
import { readSettings } from '../config.js';
import { makerSecretPurpose } from '../makers/makers.store.js';
import { hashPassword } from '../people/passwords.js';
import { SetClock } from '../platform/clock.js';
import { Database } from '../platform/database.js';
import { toDate } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import { SealedBox } from '../platform/sealed-box.js';
import type { Actor, Work } from '../platform/work.js';
import type { Cast, Clinic } from './cast.js';
import { dice } from './eyes.js';
import { clinics, holidaysAround, makers, people } from './network.js';
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

interface Means {
  readonly password: string;
  readonly folder: string;
  readonly simulator: string | null;
}

type Network = Omit<Cast, 'database' | 'clock'>;

async function makeNetwork(database: Database, box: SealedBox, means: Means): Promise<Network> {
  const passwordHash = await hashPassword(means.password);
  const clinicIds = new Map(clinics.map(({ code }) => [code as string, uuid()]));
  const made = await database.work(loader, async (work) => {
    for (const clinic of clinics)
      await work.tx.clinic.create({ data: { ...clinic, id: clinicIds.get(clinic.code) ?? uuid() } });
    const staff = await makePeople(work, clinicIds, passwordHash);
    return { staff, makers: await makeMakers(work, box, means) };
  });
  writeAccounts(means);
  return {
    password: means.password,
    makers: made.makers,
    clinics: clinics.map(({ code }) => clinicWith(code, clinicIds.get(code) ?? '', made.staff)),
  };
}

type Staff = { role: Actor['kind']; clinics: readonly string[]; actor: Actor }[];

async function makePeople(
  { tx }: Work,
  clinicIds: Map<string, string>,
  passwordHash: string,
): Promise<Staff> {
  const staff: Staff = [];
  for (const { name, email, role, clinics: at } of people) {
    const id = uuid();
    const ids = at.map((code) => clinicIds.get(code) ?? '');
    await tx.person.create({ data: { id, name, email, role, passwordHash } });
    await tx.clinicMember.createMany({ data: ids.map((clinicId) => ({ clinicId, personId: id })) });
    staff.push({ role, clinics: at, actor: { kind: role, personId: id, name, clinicIds: ids } });
  }
  return staff;
}

function clinicWith(code: Clinic['code'], id: string, staff: Staff): Clinic {
  const at = (role: Actor['kind']): Actor => {
    const found = staff.find((person) => person.role === role && person.clinics.includes(code));
    if (found === undefined) throw new Error(`The demo has no ${role} at ${code}.`);
    return found.actor;
  };
  return {
    id,
    code,
    staff: {
      surgeon: at('surgeon'),
      coordinator: at('coordinator'),
      inventory: at('inventory'),
      administrator: at('administrator'),
      auditor: at('auditor'),
    },
  };
}

async function makeMakers(
  { tx, now }: Work,
  box: SealedBox,
  { folder, simulator }: Means,
): Promise<Cast['makers']> {
  const played: object[] = [];
  const acting: Cast['makers'][number][] = [];
  for (const maker of makers) {
    const id = uuid();
    const secret = `whsec_${randomBytes(24).toString('base64')}`;
    const https = maker.channel === 'https';
    await tx.maker.create({
      data: {
        id,
        code: maker.code,
        name: maker.name,
        channel: maker.channel,
        endpoint: https ? `${simulator ?? 'http://127.0.0.1:9'}/makers/${maker.code}` : null,
        secretSealed: https ? box.seal(secret, makerSecretPurpose(id)) : null,
        timeZone: maker.timeZone,
        currency: maker.currency,
        returnWindowDays: maker.returnWindowDays,
        contact: maker.contact,
        holidays: holidaysAround(now.getUTCFullYear()),
      },
    });
    for (const { code, name, sheet } of maker.designs) {
      const designId = uuid();
      await tx.design.create({ data: { id: designId, makerId: id, code, name } });
      await tx.designVersion.create({
        data: {
          id: uuid(),
          designId,
          version: 1,
          validFrom: toDate(`${now.getUTCFullYear() - 3}-01-01`),
          sheet: sheet as unknown as Prisma.InputJsonObject,
        },
      });
    }
    acting.push({ id, code: maker.code, name: maker.name });
    if (https) played.push(playedBySimulator(maker, secret));
  }
  if (existsSync(folder))
    writeFileSync(join(folder, 'simulator-makers.json'), `${JSON.stringify(played, null, 2)}\n`, {
      mode: 0o600,
    });
  return acting;
}

/** How the simulator plays a maker: its quoted times give or take, and now and then a refusal. */
function playedBySimulator(maker: (typeof makers)[number], secret: string): object {
  const [design] = maker.designs;
  const made = design?.sheet.quotedWorkingDays.made ?? 20;
  return {
    code: maker.code,
    secret,
    workingDays: { min: Math.max(2, Math.round(made * 0.8)), max: Math.round(made * 1.3) },
    declineShare: 0.04,
    highCylinderFromD: design?.sheet.highCylinderFromD ?? 5,
    gtinPrefix: maker.gtinPrefix,
    labelScheme: maker.labelScheme,
    returnDays: maker.returnWindowDays,
    creditShare: 1,
    listPrice: Number(design?.sheet.price.base ?? 1200),
    currency: maker.currency,
  };
}

function writeAccounts({ folder, password }: Means): void {
  const accounts = people.map(({ name, email, role, clinics: at }) => ({
    email,
    password,
    role,
    name,
    clinics: at.map((code) => clinics.find((clinic) => clinic.code === code)?.name ?? code),
  }));
  if (existsSync(folder))
    writeFileSync(join(folder, 'demo-accounts.json'), `${JSON.stringify(accounts, null, 2)}\n`, {
      mode: 0o600,
    });
}

await load();
