import type { OrderState, Specification } from '@lensferry/domain';
import { fromDate } from '../platform/plain-date.js';
import type { CaseToExport, LensToExport, OrderToExport } from './fhir.queries.js';
import { lensQuantities, whatItIs } from './map-lens.js';
import {
  bodySite,
  identifier,
  inWords,
  ownIdentifier,
  quantity,
  referTo,
  uuidOf,
  type Resource,
} from './parts.js';

const ended: Partial<Record<OrderState, 'completed' | 'off'>> = {
  accepted: 'completed',
  rejected: 'off',
  declined: 'off',
  cancelled: 'off',
};
const supplyOf = (orderId: string): string => uuidOf(orderId, 'supply');
const numberOf = (order: OrderToExport) => identifier(order.clinicId, 'order number', order.number);

/** What is known of an order: asked for once it is signed, on its way once placed, delivered when a unit came. */
export function mapOrder(facts: CaseToExport, order: OrderToExport): Resource[] {
  const signature = order.signatures[0];
  const units = facts.lenses.filter(({ orderId }) => orderId === order.id);
  return [
    ...(signature === undefined ? [] : [request(facts, order, signature)]),
    ...(order.placedAt === null ? [] : [supply(facts, order, order.placedAt)]),
    ...units.map((unit) => delivery(facts, order, unit)),
  ];
}

/** The signed specification. */
function request(
  facts: CaseToExport,
  order: OrderToExport,
  signature: OrderToExport['signatures'][number],
): Resource {
  const specification = order.specification as unknown as Specification;
  const { target } = specification;
  const replaced = facts.lenses.find(({ id }) => id === order.replacesLensId);
  const prior = facts.orders.find(({ id, signatures }) => id === replaced?.orderId && signatures.length > 0);
  const exchange = facts.row.exchanges.find(({ round }) => round === order.round);
  const end = ended[order.state];
  return {
    resourceType: 'DeviceRequest',
    id: order.id,
    identifier: [
      ownIdentifier(order.id),
      numberOf(order),
      identifier(order.clinicId, 'SHA-256 of the signed specification', order.specificationHash),
    ],
    ...(prior === undefined ? {} : { priorRequest: [referTo(prior.id)] }),
    status: end === 'off' ? 'revoked' : (end ?? 'active'),
    intent: 'order',
    codeCodeableConcept: inWords(
      `${whatItIs.text}: ${specification.designCode}, version ${specification.designVersion}`,
    ),
    parameter: [
      { code: inWords('eye'), valueCodeableConcept: bodySite(specification.eye) },
      ...lensQuantities(specification).map((one) => ({
        code: inWords(one.name),
        valueQuantity: one.quantity,
      })),
      ...(
        [
          ['target sphere', target.sphereD, 'D'],
          ['target cylinder', target.cylinderD, 'D'],
          ['target axis', target.axisDeg, '°'],
        ] as const
      ).flatMap(([name, value, unit]) =>
        value === null ? [] : [{ code: inWords(name), valueQuantity: quantity(value, unit) }],
      ),
    ],
    subject: referTo(facts.row.patientId),
    authoredOn: signature.signedAt.toISOString(),
    requester: { display: signature.signerName },
    ...(exchange === undefined ? {} : { reasonCode: [reasonOf(exchange.reason)] }),
  };
}

/** What was asked of the maker. */
function supply(facts: CaseToExport, order: OrderToExport, placedAt: Date): Resource {
  const end = ended[order.state];
  return {
    resourceType: 'SupplyRequest',
    id: supplyOf(order.id),
    identifier: [numberOf(order)],
    status: end === 'off' ? 'cancelled' : (end ?? 'active'),
    itemCodeableConcept: whatItIs,
    quantity: { value: 1 },
    ...(order.needBy === null ? {} : { occurrenceDateTime: fromDate(order.needBy) }),
    authoredOn: placedAt.toISOString(),
    supplier: [{ display: facts.makers.get(order.makerId)?.name ?? 'maker' }],
    deliverTo: { display: facts.clinic.name },
  };
}

/** A unit that came. */
function delivery(facts: CaseToExport, order: OrderToExport, unit: LensToExport): Resource {
  return {
    resourceType: 'SupplyDelivery',
    id: uuidOf(unit.id, 'delivery'),
    identifier: [numberOf(order)],
    ...(order.placedAt === null ? {} : { basedOn: [referTo(supplyOf(order.id))] }),
    status: 'completed',
    patient: referTo(facts.row.patientId),
    suppliedItem: { quantity: { value: 1 }, itemReference: referTo(unit.id) },
    occurrenceDateTime: unit.receivedAt.toISOString(),
    supplier: { display: facts.makers.get(order.makerId)?.name ?? 'maker' },
    destination: { display: facts.clinic.name },
  };
}

/** Why a lens was exchanged, in words: the note that people wrote may name a patient and stays here. */
export const reasonOf = (reason: string) => inWords(reason.replaceAll('_', ' '));
