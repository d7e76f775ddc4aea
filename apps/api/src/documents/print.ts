import { DomainError } from '@lensferry/domain';
import { exportSubject } from '../cases/export-subject.js';
import { readIdentity } from '../cases/read-identity.js';
import type { MakerDocument } from '../dispatch/channel.js';
import { makerPaper } from '../dispatch/maker-paper.js';
import { changeOf } from '../orders/order-change.js';
import { loadOrder } from '../orders/orders.store.js';
import { dayIn, plusDays, toDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { deviceStatement } from './device-statement.js';
import {
  implantFacts,
  lensesForTheatre,
  lensFacts,
  orderFacts,
  patientSheetFacts,
  returnFacts,
  theatreFacts,
} from './documents.queries.js';
import { implantCard } from './implant-card.js';
import { lensLabel } from './lens-label.js';
import { orderSheet } from './order-sheet.js';
import { patientSheet, type PatientLanguage } from './patient-sheet.js';
import { pickList } from './pick-list.js';
import { subjectSheet } from './subject-sheet.js';
import { returnNote } from './return-note.js';
import { theatreSheet } from './theatre-sheet.js';

/** A document as bytes, with the name that it is saved under. */
export interface Printed {
  readonly pdf: Buffer;
  readonly fileName: string;
}

/** What a maker gets on paper. @throws DomainError `order.missing`. */
export async function printOrderSheet(work: Work, orderId: string): Promise<Printed> {
  const facts = await orderFacts(work, orderId);
  return { pdf: await orderSheet(facts, work.now), fileName: `${facts.order.number}-order.pdf` };
}

/**
 * What is asked of the maker now, exactly as a mail would bring it.
 * @throws DomainError `order.missing`, `order.no-document` before the order was placed.
 */
export async function printToMaker(work: Work, orderId: string): Promise<Printed> {
  const order = await loadOrder(work, orderId);
  const change = changeOf(order)?.document ?? null;
  const [what, document, writtenAt] =
    order.state === 'cancel_requested' && order.cancellation !== null
      ? (['cancellation', order.cancellation, order.cancelAskedAt] as const)
      : change !== null
        ? (['change', change, new Date(change.askedAt)] as const)
        : (['order', order.document, order.placedAt] as const);
  if (document === null)
    throw new DomainError(
      'missing',
      'order.no-document',
      'The document is written when the order is placed.',
    );
  const pdf = await makerPaper(document as unknown as MakerDocument, writtenAt ?? work.now);
  return { pdf, fileName: `${order.number}-${what}.pdf` };
}

export async function printDeviceStatement(work: Work, orderId: string): Promise<Printed> {
  const facts = await orderFacts(work, orderId);
  return { pdf: await deviceStatement(facts, work.now), fileName: `${facts.order.number}-statement.pdf` };
}

/** The sheet for theatre. @throws DomainError `document.no-order` when nothing was planned. */
export async function printTheatreSheet(work: Work, caseId: string): Promise<Printed> {
  const facts = await theatreFacts(work, caseId);
  const { order, specification } = facts;
  if (order === null || specification === null)
    throw new DomainError(
      'refused',
      'document.no-order',
      'Plan a lens first; the sheet shows how it is to lie.',
    );
  const pdf = await theatreSheet({ ...facts, order, specification }, work.now);
  return { pdf, fileName: `${facts.eyeCase.code}-theatre.pdf` };
}

/**
 * One page in plain words for the patient, under the code name.
 * @throws DomainError `case.missing`, `document.no-plan` when there is nothing to tell yet.
 */
export async function printPatientSheet(
  work: Work,
  caseId: string,
  language: PatientLanguage,
): Promise<Printed> {
  const { plan, ...facts } = await patientSheetFacts(work, caseId);
  if (plan === null)
    throw new DomainError(
      'refused',
      'document.no-plan',
      'Make a plan first; the sheet tells the range that it expects.',
    );
  const pdf = await patientSheet({ ...facts, plan }, language, work.now);
  return { pdf, fileName: `${facts.eyeCase.code}-patient-${language}.pdf` };
}

/**
 * The patient's card, with the name on it: so the look at the identity goes on the record.
 * @throws DomainError `document.no-lens` when no lens is in the eye.
 */
export async function printImplantCard(work: Work, caseId: string): Promise<Printed> {
  work.need('case.identity');
  const facts = await implantFacts(work, caseId);
  if (facts === null)
    throw new DomainError(
      'refused',
      'document.no-lens',
      'No lens is in this eye, so there is no card to print.',
    );
  const patient = facts.hasIdentity ? await readIdentity(work, caseId) : null;
  return { pdf: await implantCard(facts, patient, work.now), fileName: `${facts.eyeCase.code}-card.pdf` };
}

/** What is held about a patient, on paper, for that person. */
export async function printSubjectSheet(work: Work, caseId: string): Promise<Printed> {
  const held = await exportSubject(work, caseId);
  return { pdf: await subjectSheet(held, work.now), fileName: `${held.cases[0]!.code}-held.pdf` };
}

export async function printReturnNote(work: Work, returnId: string): Promise<Printed> {
  const facts = await returnFacts(work, returnId);
  return { pdf: await returnNote(facts, work.now), fileName: `${facts.row.number}-note.pdf` };
}

export async function printLensLabel(work: Work, lensId: string): Promise<Printed> {
  const facts = await lensFacts(work, lensId);
  return { pdf: await lensLabel(facts, work.now), fileName: `${facts.lens.serial}-label.pdf` };
}

/** The lenses to fetch for a week of theatre from a day on; today when left out. */
export async function printPickList(work: Work, from: string | undefined): Promise<Printed> {
  const first = from ?? dayIn('UTC', work.now);
  const days = { from: first, to: plusDays(first, 6) };
  const lenses = await lensesForTheatre(work, toDate(days.from), toDate(days.to));
  return { pdf: await pickList(lenses, days, work.now), fileName: `pick-list-${first}.pdf` };
}
