import type { FittingLenses } from '@lensferry/contracts';
import { loadOrder } from '../orders/orders.store.js';
import type { Work } from '../platform/work.js';
import { differencesFrom } from './keep-for-case.js';
import { offersFor } from '../transfers/transfers.queries.js';
import { findLenses } from './lenses.queries.js';

/** So many of the clinic's free units are looked at. */
const most = 200;

/** Free units of the order's clinic that are exactly what it asks for: the first to expire is proposed first. */
export async function fittingLenses(work: Work, orderId: string): Promise<FittingLenses> {
  const order = await loadOrder(work, orderId);
  if (!['draft', 'submitted', 'changes_requested', 'approved'].includes(order.state))
    return { items: [], offers: [] };
  const free = await work.tx.lensUnit.findMany({
    where: {
      clinicId: order.clinicId,
      makerId: order.makerId,
      state: 'in_stock',
      expiresOn: { gt: work.now },
    },
    orderBy: [{ expiresOn: 'asc' }, { id: 'asc' }],
    take: most,
  });
  const fitting: string[] = [];
  for (const lens of free) if ((await differencesFrom(work, lens, order)).length === 0) fitting.push(lens.id);
  return { items: await findLenses(work, { id: { in: fitting } }), offers: await offersFor(work, orderId) };
}
