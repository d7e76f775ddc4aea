import type { ListQuery } from '@lensferry/contracts';
import type { Work } from './work.js';

/** A page of the clinics' record, the newest entry on top. */
export async function listAudit({ tx }: Work, query: ListQuery) {
  const where = {
    ...(query.clinicId === undefined ? {} : { clinicId: query.clinicId }),
    ...(query.caseId === undefined ? {} : { caseId: query.caseId }),
    ...(query.q === undefined || query.q === '' ? {} : { action: { contains: query.q } }),
  };
  const total = await tx.auditEntry.count({ where });
  const rows = await tx.auditEntry.findMany({
    where,
    orderBy: [{ at: 'desc' }, { seq: 'desc' }],
    skip: (query.page - 1) * query.perPage,
    take: query.perPage,
  });
  return {
    total,
    items: rows.map((row) => ({
      clinicId: row.clinicId,
      seq: Number(row.seq),
      at: row.at.toISOString(),
      actorName: row.actorName,
      actorKind: row.actorKind,
      action: row.action,
      caseId: row.caseId,
      orderId: row.orderId,
      facts: row.facts as Record<string, unknown>,
      why: row.why,
      hash: row.hash,
    })),
  };
}
