/**
 * `npm run rotate-key`: seals everything anew with IDENTITY_KEY; IDENTITY_KEY_PREVIOUS opens what was sealed before.
 * Exit code 0: the present key opens everything, 1: it was refused; running it again goes on where it stopped.
 */
import { readSettings } from './config.js';
import { rotateKey } from './keys/rotate-key.js';
import { openDatabase } from './server.js';

async function main(): Promise<void> {
  const settings = readSettings();
  const { IDENTITY_KEY_PREVIOUS: _previous, ...present } = settings;
  const [database, alone] = [openDatabase(settings), openDatabase(present)];
  try {
    const { keyId, sealed, verified } = await rotateKey(database, alone, {
      after: (done) => Promise.resolve(console.log(`${done} sealed anew`)),
    });
    const say = (counts: Record<string, number>): string =>
      Object.entries(counts)
        .map(([table, count]) => `${count} ${table}`)
        .join(', ');
    console.log(`Key ${keyId}: sealed anew ${say(sealed)}; opened with it alone ${say(verified)}.`);
    console.log(
      'IDENTITY_KEY_PREVIOUS is not needed any more: take it out of the settings of every process.',
    );
  } finally {
    await database.close();
    await alone.close();
  }
}

main().catch((error: Error) => {
  console.error(error.message);
  process.exitCode = 1;
});
