import type {
  CancellationDocument,
  ChangeDocument,
  OrderDocument,
  OrderedLens,
  ReturnDocument,
  ReturnReason,
} from '@lensferry/contracts';
import { eyeInCapitals, type Specification } from '@lensferry/domain';
import { fromDateOrNull } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import type { OrderRow } from '../orders/orders.store.js';
import { returnMissing } from '../returns/returns.errors.js';

/** The order as its maker receives it: written once, when it is placed. */
export async function orderDocument(work: Work, order: OrderRow): Promise<OrderDocument> {
  const specification = order.specification as unknown as Specification;
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: order.clinicId } });
  const signature = await work.tx.signature.findFirstOrThrow({
    where: { orderId: order.id, voidedAt: null },
  });
  const replaced =
    order.replacesLensId === null
      ? null
      : await work.tx.lensUnit.findFirst({ where: { id: order.replacesLensId }, include: { order: true } });
  return {
    document: 'lens-order',
    version: 1,
    orderNumber: order.number,
    caseCode: specification.caseCode,
    clinic: { code: clinic.code, name: clinic.name },
    eye: eyeInCapitals[specification.eye],
    lens: orderedLens(specification),
    specificationHash: order.specificationHash,
    needBy: fromDateOrNull(order.needBy),
    replaces: replaced?.order.number ?? null,
    urgent: replaced !== null,
    signedBy: signature.signerName,
    signedAt: signature.signedAt.toISOString(),
    placedAt: (order.placedAt ?? order.openedAt).toISOString(),
  };
}

/** What is to be made, as makers read it and repeat it. */
export function orderedLens(specification: Specification): OrderedLens {
  const { designCode, designVersion, sphereD, cylinderD, axisDeg, lengthMm } = specification;
  return { designCode, designVersion, sphereD, cylinderD, axisDeg, lengthMm };
}

/** What a change asks for: written once, when it is asked, like the order itself. */
export interface Asked {
  readonly number: number;
  readonly changed: ChangeDocument['changed'];
  readonly specification: Specification;
  readonly specificationHash: string;
  readonly needBy: string | null;
  readonly why: string;
  readonly signedBy: string;
  readonly signedAt: string;
}

/** The question to a maker whether an order can still be changed: the order in full, as it is to be. */
export async function changeDocument(work: Work, order: OrderRow, asked: Asked): Promise<ChangeDocument> {
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: order.clinicId } });
  const { specification } = asked;
  return {
    document: 'order-change',
    version: 1,
    orderNumber: order.number,
    change: asked.number,
    changed: asked.changed,
    caseCode: specification.caseCode,
    clinic: { code: clinic.code, name: clinic.name },
    eye: eyeInCapitals[specification.eye],
    lens: orderedLens(specification),
    specificationHash: asked.specificationHash,
    needBy: asked.needBy,
    reason: asked.why.slice(0, 500),
    signedBy: asked.signedBy,
    signedAt: asked.signedAt,
    askedAt: work.now.toISOString(),
  };
}

/** The question to a maker whether an order can still be cancelled. */
export async function cancellationDocument(
  work: Work,
  order: OrderRow,
  why: string,
): Promise<CancellationDocument> {
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: order.clinicId } });
  return {
    document: 'order-cancellation',
    version: 1,
    orderNumber: order.number,
    reason: why.slice(0, 500),
    clinic: { code: clinic.code, name: clinic.name },
    askedAt: work.now.toISOString(),
  };
}

/** Reasons for a return as makers know them, from our own words. */
export const returnReasons: Record<string, ReturnReason> = {
  vault_high: 'vault-high',
  vault_low: 'vault-low',
  edge_capture: 'edge-capture',
  rotation: 'rotation',
  refractive: 'refractive',
  damage: 'damage',
  wrong_lens: 'wrong-lens',
};

/** The notice that a lens is to come back. */
export async function returnDocument(work: Work, returnId: string): Promise<ReturnDocument> {
  const row = await work.tx.lensReturn.findFirst({
    where: { id: returnId },
    include: { lens: { include: { order: true } } },
  });
  if (row === null) throw returnMissing();
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: row.clinicId } });
  const specification = row.lens.order.specification as unknown as Specification;
  return {
    document: 'lens-return',
    version: 1,
    returnNumber: row.number,
    serial: row.lens.serial,
    designCode: specification.designCode,
    orderNumber: row.lens.madeUnder ?? row.lens.order.number,
    reason: returnReasons[row.reason] ?? 'unused',
    clinic: { code: clinic.code, name: clinic.name },
  };
}
