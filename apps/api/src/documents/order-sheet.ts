import { eyeInCapitals, type Specification } from '@lensferry/domain';
import { fromDateOrNull } from '../platform/plain-date.js';
import { dayInLetters, degrees, dioptres, millimetres } from './in-words.js';
import type { OrderFacts } from './documents.queries.js';
import { makerFooter, Sheet, type Fact } from './sheet.js';

/** What is to be made, as facts on paper. */
export function specificationOnPaper(spec: Specification): Fact[] {
  return [
    ['Eye', `${eyeInCapitals[spec.eye]} (${spec.eye})`],
    ['Sphere', dioptres(spec.sphereD)],
    ['Cylinder (minus form)', dioptres(spec.cylinderD)],
    ['Axis', degrees(spec.axisDeg)],
    ['Overall length', millimetres(spec.lengthMm)],
  ];
}

/** The order as a maker gets it on paper: the signed specification, the eye and a case code; never a patient's name. */
export function orderSheet(facts: OrderFacts, printedAt: Date): Promise<Buffer> {
  const { order, specification, signature, clinic, maker, design, replaces } = facts;
  const sheet = new Sheet({
    title: 'Lens order',
    reference: `${order.number} · case ${specification.caseCode}`,
    printedAt,
    footer: makerFooter,
  });
  const needBy = fromDateOrNull(order.needBy);
  sheet.shout(`${eyeInCapitals[specification.eye]} EYE`);
  sheet.facts([
    ['Order', order.number],
    ['Ordered from', maker.name],
    ['Ordered by', `${clinic.name} (${clinic.code})`],
    ['Design', `${design.name} (${design.code}, version ${design.version})`],
    ['Needed by', needBy === null ? 'no theatre date yet' : dayInLetters(needBy)],
    ...(replaces === null
      ? []
      : [['Urgent: replaces', `lens ${replaces.serial} of order ${replaces.orderNumber}`] as const]),
  ]);
  sheet.heading('To be made');
  sheet.facts(specificationOnPaper(specification), { size: 13 });
  sheet.heading('Signed');
  sheet.facts(
    signature === null
      ? [['Signature', 'NOT SIGNED: nothing may be made from this sheet']]
      : [
          ['Signed by', signature.signerName],
          ['At', `${signature.signedAt.toISOString().slice(0, 16).replace('T', ' ')} UTC`],
          ['Meaning', signature.meaning],
        ],
  );
  sheet.facts([['Specification hash', order.specificationHash]], { size: 7 });
  sheet.cautions([
    'Repeat eye, sphere, cylinder, axis and length when you confirm this order; an echo that differs stops it.',
    'Powers are at the lens plane, the cylinder in minus form, the axis in degrees counter-clockwise from 3 o’clock as one faces the patient.',
    'Any change to this specification voids the signature and needs a new order sheet.',
  ]);
  return sheet.finish();
}
