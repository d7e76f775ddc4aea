import { randomBytes } from 'node:crypto';
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { v7 as uuid } from 'uuid';
import { makerSecretPurpose } from '../makers/makers.store.js';
import { hashPassword } from '../people/passwords.js';
import type { Database } from '../platform/database.js';
import { toDate } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { SealedBox } from '../platform/sealed-box.js';
import type { Actor, Work } from '../platform/work.js';
import type { Cast, Clinic } from './cast.js';
import { clinics, holidaysAround, makers, people } from './network.js';

const loader: Actor = { kind: 'worker', personId: null, name: 'Demo', clinicIds: [] };

/** What the network is made with. */
export interface Means {
  readonly password: string;
  /** Where the accounts and the simulator's makers are written down. */
  readonly folder: string;
  /** The maker simulator's address; null when none runs. */
  readonly simulator: string | null;
}

/** Clinics, people and makers, ready to play. */
export type Network = Omit<Cast, 'database' | 'clock'>;

/** Writes down the network's clinics, people and makers: its settings, which no use case makes yet. */
export async function makeNetwork(database: Database, box: SealedBox, means: Means): Promise<Network> {
  const passwordHash = await hashPassword(means.password);
  const clinicIds = new Map(clinics.map(({ code }) => [code as string, uuid()]));
  const made = await database.work(loader, async (work) => {
    for (const clinic of clinics)
      await work.tx.clinic.create({
        data: {
          ...clinic,
          id: clinicIds.get(clinic.code) ?? uuid(),
          holidays: holidaysAround(work.now.getUTCFullYear()),
        },
      });
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
        address: maker.address,
        website: maker.website,
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
