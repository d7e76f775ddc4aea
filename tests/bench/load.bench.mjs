/**
 * The product under load, against its raw parts on the same machine in the same run: `npm run bench -- load`.
 * ORDERS (1,000,000) and TURNS change its size; `npm run bench -- load` takes about half an hour.
 */
import { runVitest } from '../../apps/launcher/src/test-run.mjs';

export const need = ['install', 'packages', 'prisma', 'api', 'simulator'];

export async function run(say) {
  let missed = 0;
  const env = { ...process.env, NODE_ENV: 'test', LOAD: '1' };
  const { ok, passed } = await runVitest(['load'], { env });
  if (!ok || passed === 0) missed += 1;
  say(
    missed === 0
      ? 'Every figure is above; those marked ✗ fell short.'
      : 'The bench itself failed; see above.',
  );
  return missed === 0;
}
