import type { HistoryEntry } from '@lensferry/contracts';
import type { Work } from './work.js';

/** What happened to a case, an order or a lens, oldest first, from the clinic's record. */
export async function historyOf(
  { tx }: Work,
  of: { caseId: string } | { orderId: string } | { lensId: string },
): Promise<HistoryEntry[]> {
  const rows = await tx.auditEntry.findMany({ where: of, orderBy: { seq: 'asc' } });
  return rows.map((row) => ({
    seq: Number(row.seq),
    at: row.at.toISOString(),
    actorName: row.actorName,
    actorKind: row.actorKind,
    action: row.action,
    facts: row.facts as Record<string, unknown>,
    why: row.why,
  }));
}
