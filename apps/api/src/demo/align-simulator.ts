import type { Database } from '../platform/database.js';
import type { Actor } from '../platform/work.js';

const demo: Actor = { kind: 'worker', personId: null, name: 'Demo', clinicIds: [] };

/** The demo's makers live where the simulator listens in this run. */
export async function alignSimulator(database: Database, simulatorUrl: string): Promise<void> {
  await database.work(demo, async ({ tx }) => {
    for (const { id, code } of await tx.maker.findMany({ where: { channel: 'https' } }))
      await tx.maker.update({ where: { id }, data: { endpoint: `${simulatorUrl}/makers/${code}` } });
  });
}
