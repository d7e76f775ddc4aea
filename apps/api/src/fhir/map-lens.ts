import { fromDate } from '../platform/plain-date.js';
import type { CaseToExport, LensToExport } from './fhir.queries.js';
import { bodySite, identifier, inWords, ownIdentifier, quantity, referTo, type Resource } from './parts.js';

export const whatItIs = inWords('toric phakic intraocular lens for the posterior chamber');
const usable: readonly string[] = ['in_stock', 'reserved', 'implanted'];

/** What a lens is as numbers: of its label, or of the specification that it was ordered by. */
export interface LensNumbers {
  readonly eye?: 'OD' | 'OS' | null;
  readonly sphereD?: number | null;
  readonly cylinderD?: number | null;
  readonly axisDeg?: number | null;
  readonly lengthMm?: number | null;
}
const fields = [
  ['sphereD', 'sphere', 'D'],
  ['cylinderD', 'cylinder', 'D'],
  ['axisDeg', 'axis', '°'],
  ['lengthMm', 'length', 'mm'],
] as const;

/** Each number of a lens that is known, by its name. */
export const lensQuantities = (lens: LensNumbers) =>
  fields.flatMap(([field, name, unit]) => {
    const value = lens[field];
    return typeof value === 'number' ? [{ name, quantity: quantity(value, unit) }] : [];
  });

/** A unit as a Device. Of its UDI only what was read off the pack is told: a GTIN, serial, lot and expiry. */
export function mapLens(facts: CaseToExport, unit: LensToExport): Resource {
  const lens = unit.lens as LensNumbers;
  const maker = facts.makers.get(unit.makerId);
  const version = facts.designs.get(unit.orderId);
  return {
    resourceType: 'Device',
    id: unit.id,
    identifier: [ownIdentifier(unit.id), identifier(unit.makerId, 'serial number', unit.serial)],
    ...(unit.gtin === null
      ? {}
      : {
          udiCarrier: [{ deviceIdentifier: unit.gtin, issuer: 'http://hl7.org/fhir/NamingSystem/gs1-di' }],
        }),
    status: usable.includes(unit.state) ? 'active' : 'inactive',
    ...(maker === undefined ? {} : { manufacturer: maker.name }),
    expirationDate: fromDate(unit.expiresOn),
    ...(unit.lot === null ? {} : { lotNumber: unit.lot }),
    serialNumber: unit.serial,
    ...(version === undefined
      ? {}
      : {
          deviceName: [{ name: version.design.name, type: 'manufacturer-name' }],
          modelNumber: version.design.code,
          version: [{ value: String(version.version) }],
        }),
    type: whatItIs,
    property: [
      ...(lens.eye ? [{ type: inWords('made for'), valueCode: [bodySite(lens.eye)] }] : []),
      ...lensQuantities(lens).map((one) => ({ type: inWords(one.name), valueQuantity: [one.quantity] })),
      { type: inWords('state in the clinic'), valueCode: [inWords(unit.state.replaceAll('_', ' '))] },
    ],
    ...(unit.state === 'implanted' ? { patient: referTo(facts.row.patientId) } : {}),
    owner: { display: facts.clinic.name },
  };
}
