import type { AuditPage, ListQuery } from '@lensferry/contracts';
import type { z } from 'zod';
import { cutPage, holds, type Ordering } from './keyset.js';
import { Prisma } from './prisma-client/client.js';
import type { Work } from './work.js';

const newestFirst: Ordering = { name: 'recent', column: 'at', kind: 'instant', descending: true };

/** A page of the clinics' record, the newest entry on top. */
export async function listAudit(work: Work, query: ListQuery): Promise<z.infer<typeof AuditPage>> {
  const where: Prisma.Sql[] = [];
  if (query.caseId !== undefined) where.push(Prisma.sql`r.case_id = ${query.caseId}::uuid`);
  if (query.q !== undefined && query.q !== '') where.push(holds('r.action', query.q));
  const { keys, ...page } = await cutPage(
    work,
    {
      table: 'audit_entry',
      ties: [
        { column: 'seq', type: 'bigint' },
        { column: 'clinic_id', type: 'uuid' },
      ],
      where,
    },
    newestFirst,
    query,
  );
  const named = keys.map(([seq = '', clinicId = '']) => ({ clinicId, seq: BigInt(seq) }));
  const found = await work.tx.auditEntry.findMany({ where: { OR: named } });
  const byName = new Map(found.map((row) => [`${row.seq} ${row.clinicId}`, row]));
  const rows = keys.flatMap(([seq, clinicId]) => byName.get(`${seq} ${clinicId}`) ?? []);
  return {
    ...page,
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
