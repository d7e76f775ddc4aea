import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { lensAround } from '../stock/lenses.queries.js';
import { caseMissing } from './cases.errors.js';
import { caseFacts } from './cases.store.js';

/** A case with everything of its own that its page shows, read in one statement. */
const around = {
  ...caseFacts,
  patient: { include: { clinic: true, identity: { select: { erasedAt: true } } } },
  plans: { orderBy: { number: 'asc' } },
  orders: { orderBy: { openedAt: 'asc' }, include: { lenses: { include: lensAround } } },
} as const satisfies Prisma.EyeCaseInclude;
export type CasePageRow = Prisma.EyeCaseGetPayload<{ include: typeof around }>;

/** Loads a case for its page. @throws DomainError `case.missing`. */
export async function loadCasePage({ tx }: Work, caseId: string): Promise<CasePageRow> {
  const row = await tx.eyeCase.findFirst({ where: { id: caseId }, include: around });
  if (row === null) throw caseMissing();
  return row;
}

/** The lenses of a case's orders with what is around them, the first to expire on top. */
export function lensesOf(row: CasePageRow) {
  return row.orders
    .flatMap((order) => order.lenses.map((lens) => ({ ...lens, order: { ...order, eyeCase: row } })))
    .sort((a, b) => a.expiresOn.getTime() - b.expiresOn.getTime());
}
