import type { PatientIdentity } from '@lensferry/contracts';
import { loadCase, type CaseRow } from '../cases/cases.store.js';
import { namesOf } from '../people/people.queries.js';
import type { Work } from '../platform/work.js';

/** A case with all that its export shows; the identity is there only when it was asked for. */
export async function caseToExport(work: Work, caseId: string) {
  const row = await loadCase(work, caseId);
  const lenses = lensesOf(row);
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: row.clinicId } });
  const makers = await work.tx.maker.findMany({
    where: { id: { in: [...row.orders, ...lenses].map(({ makerId }) => makerId) } },
  });
  const orders = await work.tx.lensOrder.findMany({
    where: { id: { in: [...row.orders.map(({ id }) => id), ...lenses.map(({ orderId }) => orderId)] } },
    include: { signatures: { where: { voidedAt: null } } },
  });
  const versions = await work.tx.designVersion.findMany({
    where: { id: { in: orders.map(({ designVersionId }) => designVersionId) } },
    include: { design: true },
  });
  const names = await namesOf(
    work,
    row.implantations.map(({ surgeonId }) => surgeonId),
  );
  return {
    row,
    lenses,
    clinic,
    names,
    orders: orders.filter((order) => order.caseId === row.id),
    makers: new Map(makers.map((maker) => [maker.id, maker])),
    designs: new Map(
      orders.map(({ id, designVersionId }) => [id, versions.find((each) => each.id === designVersionId)]),
    ),
    identity: null as PatientIdentity | null,
  };
}
export type CaseToExport = Awaited<ReturnType<typeof caseToExport>>;
export type LensToExport = CaseToExport['lenses'][number];
export type OrderToExport = CaseToExport['orders'][number];

/** Each unit that came for the case or lay in its eye, once. */
function lensesOf(row: CaseRow): CaseRow['implantations'][number]['lens'][] {
  const units = [...row.orders.flatMap(({ lenses }) => lenses), ...row.implantations.map(({ lens }) => lens)];
  return [...new Map(units.map((unit) => [unit.id, unit])).values()];
}
