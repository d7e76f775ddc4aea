import { resolve } from 'node:path';
import { inRepository } from './repository.mjs';
import { StopSentence } from './stop-sentence.mjs';

export const HELP = `npm start                 starts Lensferry; the first time with a demo network
npm start -- --fresh      removes what an earlier start made in DATA_DIR and begins anew
npm start -- --help       prints this

Settings come from the environment:
  PORT           where the API and the pages answer                  (4180)
  HOST           on which address                                    (127.0.0.1)
  DATA_DIR       where the database, keys and logs are kept          (.lensferry in this folder)
  DATABASE_URL   your own PostgreSQL instead of the embedded one; then there is no demo
  REDIS_URL      BullMQ on Redis instead of PostgreSQL
  LENSFERRY_DEMO 1 loads the demo network into DATABASE_URL too, 0 leaves it out
  SIMULATOR_SECONDS_PER_DAY how long a day lasts for the demo's lens makers
`;

/**
 * Reads arguments and environment together, and names everything that is wrong with them in one sentence.
 */
export function readStartOptions(args, env) {
  const unknown = args.filter((arg) => !['--fresh', '--help', '-h'].includes(arg));
  const port = Number(env.PORT || 4180);
  const faults = [
    ...unknown.map((arg) => `${arg} is not an option (npm start -- --help lists them)`),
    ...(Number.isInteger(port) && port >= 1 && port <= 65535
      ? []
      : [`PORT must be a whole number from 1 to 65535, not ${env.PORT}`]),
    ...(['', '0', '1', undefined].includes(env.LENSFERRY_DEMO)
      ? []
      : [`LENSFERRY_DEMO must be 0 or 1, not ${env.LENSFERRY_DEMO}`]),
    ...(!env.DATABASE_URL || /^postgres(ql)?:\/\//.test(env.DATABASE_URL)
      ? []
      : ['DATABASE_URL must begin with postgresql://']),
    ...(!env.REDIS_URL || /^rediss?:\/\//.test(env.REDIS_URL) ? [] : ['REDIS_URL must begin with redis://']),
    ...(args.includes('--fresh') && env.DATABASE_URL
      ? ['--fresh empties only the embedded database, so it does not go with DATABASE_URL']
      : []),
  ];
  if (faults.length > 0) throw new StopSentence(`Lensferry cannot start like this: ${faults.join('; ')}.`);
  return {
    help: args.includes('--help') || args.includes('-h'),
    fresh: args.includes('--fresh'),
    port,
    host: env.HOST || '127.0.0.1',
    dataFolder: env.DATA_DIR ? resolve(env.DATA_DIR) : inRepository('.lensferry'),
    databaseUrl: env.DATABASE_URL || null,
    demo: env.DATABASE_URL ? env.LENSFERRY_DEMO === '1' : env.LENSFERRY_DEMO !== '0',
  };
}
