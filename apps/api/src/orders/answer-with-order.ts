import type { OrderDetail } from '@lensferry/contracts';
import { withPassword } from '../people/throttle.js';
import type { Database } from '../platform/database.js';
import type { Actor, Work } from '../platform/work.js';
import { showOrder } from './orders.queries.js';

/** Does something with an order, and answers with all of it as it stands then. */
export async function answerWithOrder(
  database: Database,
  me: Actor,
  id: string,
  useCase: (work: Work) => Promise<unknown>,
): Promise<OrderDetail> {
  await database.work(me, useCase);
  return database.work(me, (work) => showOrder(work, id));
}

/** The same for what asks for the password once more; wrong ones are throttled. */
export async function answerSigned(
  database: Database,
  me: Actor,
  id: string,
  useCase: (work: Work) => Promise<unknown>,
): Promise<OrderDetail> {
  await withPassword(database, me, useCase);
  return database.work(me, (work) => showOrder(work, id));
}
