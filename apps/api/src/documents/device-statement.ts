import type { OrderFacts } from './documents.queries.js';
import { specificationOnPaper } from './order-sheet.js';
import { makerFooter, Sheet } from './sheet.js';

/**
 * A form for the statement that accompanies a custom-made device, filled in from the order as far as the clinic knows
 * it; the maker completes and signs it. Its parts follow, in general words, Annex XIII, section 1.
 * @source Regulation (EU) 2017/745 of the European Parliament and of the Council, Annex XIII, section 1
 */
export function deviceStatement(facts: OrderFacts, printedAt: Date): Promise<Buffer> {
  const { order, specification, signature, clinic, maker, design } = facts;
  const sheet = new Sheet({
    title: 'Statement for a custom-made device',
    reference: `${order.number} · case ${specification.caseCode}`,
    printedAt,
    footer: makerFooter,
  });
  sheet.paragraph(
    'To be completed and signed by the maker. Whether this lens counts as a custom-made device, and what the statement must then say, is for the maker and the local rules to decide; this form only gathers what they usually ask for.',
  );
  sheet.heading('Maker');
  sheet.facts([
    ['Name', maker.name],
    ['Address', maker.address ?? ''],
    ['Manufacturing sites', ''],
    ['Authorised representative', ''],
  ]);
  sheet.heading('Device');
  sheet.facts([
    ['Kind', 'toric phakic intraocular lens for the posterior chamber'],
    ['Design', `${design.name} (${design.code}, version ${design.version})`],
    ['Serial and lot', ''],
    ['Order', order.number],
  ]);
  sheet.heading('For one patient only');
  sheet.facts([
    ['Patient, by code', specification.caseCode],
    ['Prescribed by', signature?.signerName ?? ''],
    ['Health institution', clinic.name],
  ]);
  sheet.paragraph('The device is intended for the exclusive use of the patient with this code.');
  sheet.heading('Characteristics as prescribed');
  sheet.facts(specificationOnPaper(specification));
  sheet.heading('Declared by the maker');
  sheet.paragraph(
    'The device conforms to the general safety and performance requirements that apply to it. Requirements that are not met in full, with the grounds:',
  );
  sheet.facts([
    ['Not met in full', ''],
    ['Substances or tissues contained', ''],
    ['Name and function', ''],
    ['Place and date', ''],
    ['Signature', ''],
  ]);
  sheet.cautions([
    'This form is no legal advice and no declaration by the clinic; local law and the maker’s authority come first.',
  ]);
  return sheet.finish();
}
