/**
 * What the admin costs the person who waits for it, in Chromium: `npm run bench -- admin`. ORDERS (100,000) is how long
 * the long list is.
 */
import { runVitest } from '../../apps/launcher/src/test-run.mjs';

export const need = ['install', 'packages', 'prisma', 'api', 'simulator', 'admin'];

export async function run(say) {
  const { ok, passed } = await runVitest(['bench-admin'], { env: { ...process.env, NODE_ENV: 'test' } });
  const ran = ok && passed > 0;
  say(ran ? 'Every figure is above; those marked ✗ fell short.' : 'The bench itself failed; see above.');
  return ran;
}
