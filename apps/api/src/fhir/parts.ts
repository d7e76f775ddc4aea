import { createHash } from 'node:crypto';
import type { Eye } from '@lensferry/domain';

/** A resource of FHIR R4 (4.0.1) as plain JSON; what is undefined is not written. */
export interface Resource {
  readonly resourceType: string;
  readonly id: string;
  readonly [field: string]: unknown;
}
export interface Concept {
  readonly coding?: readonly { system: string; code: string; display: string }[];
  readonly text: string;
}
export interface Quantity {
  readonly value: number;
  readonly unit: string;
  readonly system: string;
  readonly code: string;
}

/**
 * A name-based UUID, version 5: the same parts give the same id in every export.
 * @source RFC 9562, section 5.5
 */
export function uuidOf(namespace: string, name: string): string {
  const bytes = createHash('sha1')
    .update(Buffer.from(namespace.replaceAll('-', ''), 'hex'))
    .update(name)
    .digest()
    .subarray(0, 16);
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x50;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = bytes.toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

/** Lensferry's own namespace for code systems: any fixed UUID does. */
const ours = '5f0c3a52-7a0e-4b1d-9a55-0d6c2b9f7e31';

export const urnOf = (id: string): string => `urn:uuid:${id}`;
export const referTo = (id: string): { reference: string } => ({ reference: urnOf(id) });

/**
 * A number that a clinic or a maker gives. Its system is a UUID made of who gives it and what it numbers: a `urn:uuid:`
 * is a proper absolute URI that nobody has to register, where a namespace of our own under `urn:` would need
 * registration and an `https:` one a domain that every installation shares.
 */
export const identifier = (giver: string, kind: string, value: string) => ({
  type: { text: kind },
  system: urnOf(uuidOf(giver, kind)),
  value,
});
/** A row's own id, as FHIR writes a URI for an identifier. */
export const ownIdentifier = (id: string) => ({ system: 'urn:ietf:rfc:3986', value: urnOf(id) });

export const inWords = (text: string): Concept => ({ text });
/** A code of Lensferry's own, with its words. */
export const ownConcept = (list: string, code: string, display: string): Concept => ({
  coding: [{ system: urnOf(uuidOf(ours, list)), code, display }],
  text: display,
});

/** How a unit of ours is written in UCUM; what is a grade or a ratio has no dimension. */
const ucum: Readonly<Record<string, string>> = {
  D: '[diop]',
  '°': 'deg',
  mm: 'mm',
  µm: 'um',
  decimal: '1',
  'cells/mm²': '{cells}/mm2',
  mmHg: 'mm[Hg]',
  'Shaffer grade': '{Shaffer}',
};

/** A number with its unit. @throws when the unit has no UCUM code. */
export function quantity(value: number, unit: string): Quantity {
  const code = ucum[unit];
  if (code === undefined) throw new Error(`No UCUM code is known for ${unit}.`);
  return { value, unit, system: 'http://unitsofmeasure.org', code };
}

/** The eye, in words and as SNOMED CT's body structure; the two codes are from memory. */
const eyes: Readonly<Record<Eye, Concept>> = {
  OD: snomed('18944008', 'Right eye structure', 'right eye'),
  OS: snomed('8966001', 'Left eye structure', 'left eye'),
};
export const bodySite = (eye: Eye): Concept => eyes[eye];

function snomed(code: string, display: string, text: string): Concept {
  return { coding: [{ system: 'http://snomed.info/sct', code, display }], text };
}

/** `corrected_by` or `sphereD` in plain words. */
export const wordsOf = (name: string): string =>
  name
    .replace(/(?<=[a-z])(PerMm2|MmHg|Decimal|Deg|Mm|Um|D)$/, '')
    .replaceAll('_', ' ')
    .replaceAll(/(?<=[a-z])(?=[A-Z])/g, ' ')
    .toLowerCase();
