import type { ChangeDocument, OrderDocument } from '@lensferry/contracts';
import { dayInLetters, degrees, dioptres, millimetres } from '../documents/in-words.js';
import { makerFooter, Sheet, type Fact } from '../documents/sheet.js';
import type { MakerDocument } from './channel.js';

const titles: Record<MakerDocument['document'], string> = {
  'lens-order': 'Lens order',
  'order-change': 'Change of a lens order',
  'order-cancellation': 'Request to cancel a lens order',
  'lens-return': 'Return of a lens',
};

const answers: Record<MakerDocument['document'], string> = {
  'lens-order':
    'Repeat eye, sphere, cylinder, axis and length when you confirm this order; an echo that differs stops it.',
  'order-change':
    'This is a question: the order stands as it was until you agree. Repeat eye, sphere, cylinder, axis and length when you do.',
  'order-cancellation':
    'This is a question: the order stands until you agree to cancel it or say that it is too late.',
  'lens-return': 'Answer with your authorisation; the lens leaves us when we have it.',
};

/** A document to a maker on paper, from the document alone: the same document makes the same bytes. */
export function makerPaper(document: MakerDocument, writtenAt: Date): Promise<Buffer> {
  const number = document.document === 'lens-return' ? document.returnNumber : document.orderNumber;
  const sheet = new Sheet({
    title: titles[document.document],
    reference: 'caseCode' in document ? `${number} · case ${document.caseCode}` : number,
    printedAt: writtenAt,
    footer: makerFooter,
  });
  if ('eye' in document) sheet.shout(`${document.eye} EYE`);
  sheet.facts([...factsOf(document), ['From', `${document.clinic.name} (${document.clinic.code})`]]);
  if ('lens' in document) writeLens(sheet, document);
  sheet.cautions([
    answers[document.document],
    'Powers are at the lens plane, the cylinder in minus form, the axis in degrees counter-clockwise from 3 o’clock as one faces the patient.',
  ]);
  return sheet.finish();
}

function factsOf(document: MakerDocument): Fact[] {
  switch (document.document) {
    case 'lens-order':
      return [
        ['Order', document.orderNumber],
        ['Needed by', day(document.needBy)],
        ...(document.replaces === null ? [] : [['Urgent: replaces order', document.replaces] as const]),
      ];
    case 'order-change':
      return [
        ['Order', document.orderNumber],
        ['Change', String(document.change)],
        [
          'What changes',
          document.changed.map((what) => (what === 'lens' ? 'the lens' : 'the day')).join(' and '),
        ],
        ['Why', document.reason],
        ['Needed by', day(document.needBy)],
      ];
    case 'order-cancellation':
      return [
        ['Order', document.orderNumber],
        ['Why', document.reason],
      ];
    case 'lens-return':
      return [
        ['Return', document.returnNumber],
        ['Of order', document.orderNumber],
        ['Design', document.designCode],
        ['Serial', document.serial],
        ['Why', document.reason],
      ];
  }
}

const day = (needBy: string | null): string =>
  needBy === null ? 'no theatre date yet' : dayInLetters(needBy);

function writeLens(sheet: Sheet, document: OrderDocument | ChangeDocument): void {
  const { lens } = document;
  sheet.heading('To be made');
  sheet.facts(
    [
      ['Design', `${lens.designCode}, version ${lens.designVersion}`],
      ['Sphere', dioptres(lens.sphereD)],
      ['Cylinder (minus form)', dioptres(lens.cylinderD)],
      ['Axis', degrees(lens.axisDeg)],
      ['Overall length', millimetres(lens.lengthMm)],
    ],
    { size: 13 },
  );
  sheet.heading('Signed');
  sheet.facts([
    ['Signed by', document.signedBy],
    ['At', `${document.signedAt.slice(0, 16).replace('T', ' ')} UTC`],
  ]);
  sheet.facts([['Specification hash', document.specificationHash]], { size: 7 });
}
