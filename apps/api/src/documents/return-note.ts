import { fromDate } from '../platform/plain-date.js';
import { symbolContent, type ReturnFacts } from './documents.queries.js';
import { dayInLetters } from './in-words.js';
import { makerFooter, mm, Sheet } from './sheet.js';
import { symbolOf } from './symbol.js';

/** The note in a parcel that takes a lens back to its maker. */
export async function returnNote(facts: ReturnFacts, printedAt: Date): Promise<Buffer> {
  const { row, lens, maker, clinic, design } = facts;
  const symbol = await symbolOf(symbolContent(facts));
  const sheet = new Sheet({
    title: 'Return note',
    reference: `${row.number} · case ${facts.caseCode}`,
    printedAt,
    footer: makerFooter,
  });
  sheet.facts([
    ['Return', row.number],
    ['To', maker.name],
    ['From', `${clinic.name} (${clinic.code})`],
    ['Authorisation', row.authorisation ?? 'NOT AUTHORISED YET: ask the maker before it is sent'],
    ['Send by (window closes)', dayInLetters(fromDate(row.windowClosesOn))],
    ['Parcel', row.tracking ?? ''],
  ]);
  sheet.heading('Lens');
  sheet.facts([
    ['Design', `${design.name} (${design.code})`],
    ['Serial', lens.serial],
    ['Lot', lens.lot ?? 'none'],
    ['Of order', lens.order.number],
    ['Reason', row.reason.replaceAll('_', ' ')],
    ['Credit expected', `${row.creditExpected.toFixed(2)} ${row.currency}`],
  ]);
  sheet.pdf.image(symbol.png, sheet.pdf.page.width - 46 * mm, 40 * mm, { width: 24 * mm });
  sheet.heading('Handed over');
  sheet.facts([
    ['By', ''],
    ['On', ''],
  ]);
  sheet.cautions([
    'A lens that has been in an eye is used: clean, pack and mark it by the maker’s instructions and the rules for its carriage.',
    'If the lens may have harmed or could have harmed a patient, local rules may ask for a report before it leaves; keep it until that is settled.',
  ]);
  return sheet.finish();
}
