import { DomainError, eyeInCapitals, type Eye } from '@lensferry/domain';
import { fromDate } from '../platform/plain-date.js';
import { unreadOf } from '../stock/move-lens.js';
import { symbolContent, type LensFacts } from './documents.queries.js';
import { dayInLetters, degrees, dioptres, millimetres } from './in-words.js';
import { mm, Sheet, standingFooter } from './sheet.js';
import { symbolOf } from './symbol.js';

const sizeMm = [80, 44] as const;

/** A shelf label for one lens: for the clinic's own shelf, never to cover the maker's label. */
export async function lensLabel(facts: LensFacts, printedAt: Date): Promise<Buffer> {
  const { lens, maker, caseCode, codeName, clinic } = facts;
  if (unreadOf(lens.lens).length > 0)
    throw new DomainError(
      'refused',
      'document.lens-unread',
      'This pack was not read whole, so no shelf label is printed for it; read the other fields first.',
    );
  const { eye, sphereD, cylinderD, axisDeg, lengthMm } = lens.lens as {
    eye: Eye;
    sphereD: number;
    cylinderD: number;
    axisDeg: number | null;
    lengthMm: number;
  };
  const symbol = await symbolOf(symbolContent(facts));
  const sheet = new Sheet({
    title: 'Shelf label',
    reference: lens.serial,
    printedAt,
    footer: standingFooter,
    sizeMm,
  });
  const { pdf } = sheet;
  const width = 48 * mm;
  const write = (text: string, font: 'bold' | 'plain', size: number): void => {
    pdf.font(font).fontSize(size).fillColor('#000000').text(text, { width, lineGap: 0.4 });
  };
  write(`${eyeInCapitals[eye]} EYE`, 'bold', 13);
  write(`${caseCode} · ${codeName}`, 'bold', 8);
  write(`${dioptres(sphereD)} / ${dioptres(cylinderD)}`, 'bold', 9);
  write(`axis ${degrees(axisDeg)} · ${millimetres(lengthMm)}`, 'plain', 8);
  write(`SN ${lens.serial}`, 'plain', 7);
  write(`LOT ${lens.lot ?? 'none'} · ${maker.name}`, 'plain', 7);
  write(`expires ${dayInLetters(fromDate(lens.expiresOn))}`, 'bold', 8);
  write(`${lens.location} · ${clinic.code}`, 'plain', 7);
  write('For the shelf. Check the maker’s own label before use.', 'plain', 5);
  pdf.image(symbol.png, (sizeMm[0] - 27) * mm, 5 * mm, { width: 24 * mm });
  return sheet.finish();
}
