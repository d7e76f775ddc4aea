import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { returnMissing, returnMoved } from './returns.errors.js';

export type ReturnRow = Prisma.LensReturnGetPayload<{ include: { lens: true } }>;

/** A return as the person saw it. @throws DomainError `return.missing`, `return.moved`. */
export async function loadReturnAt({ tx }: Work, returnId: string, version: number): Promise<ReturnRow> {
  const row = await tx.lensReturn.findFirst({ where: { id: returnId }, include: { lens: true } });
  if (row === null) throw returnMissing();
  if (row.version !== version) throw returnMoved(row);
  return row;
}
