/** `npm run found -- --code EST --clinic "Estuary Clinic" --zone Europe/Zurich --name "…" --email …`: begins a network. */
import { parseArgs } from 'node:util';
import { FoundNetwork } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { readSettings } from './config.js';
import { foundNetwork } from './people/clinics.store.js';
import { runMigrations } from './platform/migrations/run-migrations.js';
import { openDatabase } from './server.js';

const text = { type: 'string' } as const;

async function found(): Promise<void> {
  const { values } = parseArgs({
    options: { code: text, clinic: text, zone: text, name: text, email: text },
  });
  const { data, error } = FoundNetwork.safeParse({
    code: values.code,
    name: values.clinic,
    timeZone: values.zone,
    adminName: values.name,
    adminEmail: values.email,
  });
  if (data === undefined)
    throw new DomainError(
      'invalid',
      'network.incomplete',
      `Give --code (three capital letters), --clinic, --zone (such as Europe/Zurich), --name and --email of the administrator; wrong or missing: ${[...new Set(error.issues.map(({ path }) => path.join('.')))].join(', ')}.`,
    );
  const settings = readSettings();
  await runMigrations({ databaseUrl: settings.DATABASE_URL });
  const database = openDatabase(settings);
  try {
    const { path } = await foundNetwork(database, data);
    console.log(
      `${data.name} is there. ${data.adminName} joins within 72 hours, once, by opening this where Lensferry answers:\n\n  http://localhost:${settings.PORT}${path}\n`,
    );
  } finally {
    await database.close();
  }
}

found().catch((error: unknown) => {
  console.error(error instanceof DomainError ? error.message : error);
  process.exitCode = 1;
});
