import type { ChangeDocument, InquiryDocument, OrderDocument } from '@lensferry/contracts';
import { dayInLetters, degrees, dioptres, millimetres } from '../documents/in-words.js';
import { makerFooter, Sheet, type Fact } from '../documents/sheet.js';
import type { MakerDocument } from './channel.js';

const titles: Record<MakerDocument['document'], string> = {
  'lens-order': 'Lens order',
  'order-change': 'Change of a lens order',
  'order-cancellation': 'Request to cancel a lens order',
  'order-inquiry': 'When will these lenses come?',
  'lens-return': 'Return of a lens',
};

const answers: Record<MakerDocument['document'], string> = {
  'lens-order':
    'Repeat eye, sphere, cylinder, axis and length when you confirm this order; an echo that differs stops it.',
  'order-change':
    'This is a question: the order stands as it was until you agree. Repeat eye, sphere, cylinder, axis and length when you do.',
  'order-cancellation':
    'This is a question: the order stands until you agree to cancel it or say that it is too late.',
  'order-inquiry':
    'Nothing changes by this question. Answer each order with the day on which its lens will be with us, even if it is the one you promised.',
  'lens-return': 'Answer with your authorisation; the lens leaves us when we have it.',
};

/** A document to a maker on paper, from the document alone: the same document makes the same bytes. */
export function makerPaper(document: MakerDocument, writtenAt: Date): Promise<Buffer> {
  const number = numberOf(document);
  const sheet = new Sheet({
    title: titles[document.document],
    reference: 'caseCode' in document ? `${number} · case ${document.caseCode}` : number,
    printedAt: writtenAt,
    footer: makerFooter,
  });
  if ('eye' in document) sheet.shout(`${document.eye} EYE`);
  sheet.facts([...factsOf(document), ['From', `${document.clinic.name} (${document.clinic.code})`]]);
  if ('lens' in document) writeLens(sheet, document);
  if ('orders' in document) writeOrders(sheet, document);
  sheet.cautions([answers[document.document], ...(document.document === 'order-inquiry' ? [] : [powers])]);
  return sheet.finish();
}
const powers =
  'Powers are at the lens plane, the cylinder in minus form, the axis in degrees counter-clockwise from 3 o’clock as one faces the patient.';

function numberOf(document: MakerDocument): string {
  switch (document.document) {
    case 'lens-return':
      return document.returnNumber;
    case 'order-inquiry':
      return document.inquiryNumber;
    default:
      return document.orderNumber;
  }
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
    case 'order-inquiry':
      return [
        ['Question', document.inquiryNumber],
        ['Asked on', dayInLetters(document.askedAt.slice(0, 10))],
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

function writeOrders(sheet: Sheet, { orders }: InquiryDocument): void {
  for (const { orderNumber, caseCode, needBy, promisedOn } of orders) {
    sheet.heading(orderNumber);
    sheet.facts([
      ['Case', caseCode],
      ['Needed by', day(needBy)],
      ['You promised it for', promisedOn === null ? 'no day yet' : dayInLetters(promisedOn)],
    ]);
  }
}

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
