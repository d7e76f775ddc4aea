import { eyeInCapitals, type Eye } from '@lensferry/domain';
import { fromDate } from '../platform/plain-date.js';
import { symbolContent, type LensFacts } from './documents.queries.js';
import { dayInLetters, dioptres, millimetres } from './in-words.js';
import { mm, Sheet, standingFooter } from './sheet.js';
import { symbolOf } from './symbol.js';

const rowHeight = 24 * mm;

/** Which lenses to fetch from the shelf for the operations of some days, each with its code to scan. */
export async function pickList(
  lenses: readonly LensFacts[],
  days: { from: string; to: string },
  printedAt: Date,
): Promise<Buffer> {
  const sheet = new Sheet({
    title: 'Pick list',
    reference: `theatre from ${dayInLetters(days.from)} to ${dayInLetters(days.to)}`,
    printedAt,
    footer: standingFooter,
  });
  const { pdf } = sheet;
  if (lenses.length === 0) sheet.paragraph('No lens is reserved for an operation on these days.');
  for (const facts of lenses) {
    if (pdf.y + rowHeight > pdf.page.height - pdf.page.margins.bottom) pdf.addPage();
    const { lens, caseCode, codeName, theatreOn } = facts;
    const { eye, sphereD, cylinderD, axisDeg, lengthMm } = lens.lens as {
      eye: Eye;
      sphereD: number;
      cylinderD: number;
      axisDeg: number | null;
      lengthMm: number;
    };
    const top = pdf.y;
    const symbol = await symbolOf(symbolContent(facts));
    pdf.image(symbol.png, pdf.page.width - pdf.page.margins.right - 20 * mm, top, { width: 20 * mm });
    pdf.font('bold').fontSize(11).fillColor('#1b2430');
    pdf.text(
      `☐ ${theatreOn === null ? '' : dayInLetters(theatreOn)} · ${eyeInCapitals[eye]} EYE · ${caseCode}`,
    );
    pdf.font('plain').fontSize(9.5).text(`${codeName} · ${lens.location}`);
    pdf.text(
      `${dioptres(sphereD)} / ${dioptres(cylinderD)}${axisDeg === null ? '' : ` × ${axisDeg}°`}, ${millimetres(lengthMm)}`,
    );
    pdf.text(
      `SN ${lens.serial} · LOT ${lens.lot ?? 'none'} · expires ${dayInLetters(fromDate(lens.expiresOn))}`,
    );
    pdf.y = Math.max(pdf.y, top + rowHeight);
  }
  sheet.cautions([
    'Compare serial and eye on the pack with the theatre sheet; this list only says where to look.',
  ]);
  return sheet.finish();
}
