import { writeAcuity, logMarFromDecimal } from '@lensferry/calculation';
import type { PatientSheetFacts } from './documents.queries.js';
import { fill, patientWords } from './patient-words.js';
import { mm, Sheet } from './sheet.js';

export type PatientLanguage = keyof typeof patientWords;
type Range = Readonly<Record<'p10' | 'p50' | 'p90', number>>;

/** One page for the patient: this eye's expected range, and what nobody promises. Under the code name only. */
export function patientSheet(
  facts: PatientSheetFacts,
  language: PatientLanguage,
  printedAt: Date,
): Promise<Buffer> {
  const { eyeCase, plan, spectaclesDecimal } = facts;
  const words = patientWords[language];
  const dioptres = dioptresIn(language);
  const { sphericalEquivalentD: range, withinHalfD, withinOneD } = plan.chosen;
  const sheet = new Sheet({
    title: words.title,
    reference: `${eyeCase.code} · ${eyeCase.patient.codeName}`,
    printedAt,
    footer: words.footer,
  });
  const say = (text: string): void => sheet.paragraph(text, 12);
  sheet.shout(words.eye[eyeCase.eye], 20);
  sheet.heading(words.what);
  say(words.whatText);
  sheet.heading(words.expect);
  if (spectaclesDecimal !== null)
    say(fill(words.sight, { acuity: writeAcuity(logMarFromDecimal(spectaclesDecimal), 'metres') }));
  say(fill(words.chance, { half: Math.round(10 * withinHalfD), one: Math.round(10 * withinOneD) }));
  drawRange(sheet, range, { exact: words.exact, dioptres });
  say(fill(words.range, { low: dioptres(range.p10), high: dioptres(range.p90) }));
  sheet.heading(words.not);
  for (const sentence of words.nots) say(`• ${sentence}`);
  sheet.heading(words.ask);
  say(words.askText);
  sheet.paragraph(fill(words.from, { number: plan.number }), 9);
  return sheet.finish();
}

const dioptresIn =
  (language: PatientLanguage) =>
  (value: number): string => {
    const size = new Intl.NumberFormat(language, { minimumFractionDigits: 2, maximumFractionDigits: 2 });
    const rounded = Math.round(value * 100) / 100;
    return `${rounded < 0 ? '−' : rounded > 0 ? '+' : ''}${size.format(Math.abs(rounded))} D`;
  };

/** The range as a bar over a line of dioptres, with a stroke where 0 is. */
function drawRange(
  sheet: Sheet,
  { p10, p50, p90 }: Range,
  { exact, dioptres }: { exact: string; dioptres: (value: number) => string },
): void {
  const { pdf } = sheet;
  const { left, right } = pdf.page.margins;
  const [low, high] = [Math.min(-2, p10 - 0.5), Math.max(2, p90 + 0.5)];
  const width = pdf.page.width - left - right;
  const at = (value: number): number => left + ((value - low) / (high - low)) * width;
  const y = pdf.y + 9 * mm;
  pdf
    .lineWidth(0.7)
    .strokeColor('#5a6675')
    .moveTo(left, y)
    .lineTo(left + width, y)
    .stroke();
  pdf.rect(at(p10), y - 2 * mm, at(p90) - at(p10), 4 * mm).fillAndStroke('#c9d6e2', '#1b2430');
  pdf.circle(at(p50), y, 1.4 * mm).fill('#1b2430');
  pdf
    .lineWidth(1)
    .strokeColor('#1b2430')
    .moveTo(at(0), y - 4 * mm)
    .lineTo(at(0), y + 4 * mm)
    .stroke();
  const label = (text: string, x: number, top: number): void => {
    const box = 34 * mm;
    const start = Math.min(Math.max(left, x - box / 2), left + width - box);
    pdf
      .font('plain')
      .fontSize(9)
      .fillColor('#1b2430')
      .text(text, start, top, { width: box, align: 'center' });
  };
  label(`0 = ${exact}`, at(0), y - 8.5 * mm);
  for (let value = Math.ceil(low); value <= Math.floor(high); value += 1)
    label(dioptres(value), at(value), y + 5 * mm);
  pdf.x = left;
  pdf.y = y + 12 * mm;
}
