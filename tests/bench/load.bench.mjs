/**
 * The product under load, against its raw parts on the same machine in the same run: `npm run bench -- load`.
 * ORDERS (1,000,000) and TURNS change its size; `npm run bench -- load` takes about half an hour. PARTS chooses some of
 * its parts: `PARTS=endpoints,dispatch npm run bench -- load`.
 */
import { readdirSync } from 'node:fs';
import { inRepository } from '../../apps/launcher/src/repository.mjs';
import { StopSentence } from '../../apps/launcher/src/stop-sentence.mjs';
import { runVitest } from '../../apps/launcher/src/test-run.mjs';

export const need = ['install', 'packages', 'prisma', 'api', 'simulator'];

export async function run(say) {
  let missed = 0;
  const args = chosen(process.env['PARTS']);
  const env = { ...process.env, NODE_ENV: 'test', LOAD: '1' };
  const { ok, passed } = await runVitest(['load'], { env, args });
  if (!ok || passed === 0) missed += 1;
  say(
    missed === 0
      ? 'Every figure is above; those marked ✗ fell short.'
      : 'The bench itself failed; see above.',
  );
  return missed === 0;
}

const ENDING = '.load.ts';

/** The files of the parts that are asked for; none, and all of them run. */
function chosen(parts) {
  if (!parts) return [];
  const there = readdirSync(inRepository('tests/bench/load'))
    .filter((file) => file.endsWith(ENDING))
    .map((file) => file.slice(0, -ENDING.length));
  const wanted = parts.split(',');
  if (wanted.some((part) => !there.includes(part)))
    throw new StopSentence(`PARTS names some of ${there.join(', ')}, with commas between them.`);
  return wanted.map((part) => `tests/bench/load/${part}${ENDING}`);
}
