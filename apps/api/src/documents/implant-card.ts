import { eyeInCapitals, type Eye } from '@lensferry/domain';
import { fromDate } from '../platform/plain-date.js';
import { symbolContent, type ImplantFacts } from './documents.queries.js';
import { dayInLetters, degrees, dioptres, millimetres } from './in-words.js';
import { mm, Sheet, standingFooter } from './sheet.js';
import { symbolOf } from './symbol.js';

/**
 * The card that a patient carries. Its fields are those that Regulation (EU) 2017/745 names in Article 18(1) and (2):
 * the patient's identity; the device's name, serial and lot number, UDI and model; its maker's name, address and
 * website; warnings, expected lifetime and follow-up. The maker supplies the card; this sheet fills it in.
 * @source Regulation (EU) 2017/745 of the European Parliament and of the Council, Article 18
 */
export async function implantCard(
  facts: ImplantFacts,
  patient: { name: string; birthDate: string } | null,
  printedAt: Date,
): Promise<Buffer> {
  const { lens, maker, clinic, design, implantation, surgeonName, eyeCase } = facts;
  const unit = lens.lens as {
    eye: Eye;
    sphereD: number;
    cylinderD: number;
    axisDeg: number | null;
    lengthMm: number;
  };
  const symbol = await symbolOf(symbolContent(facts));
  const sheet = new Sheet({
    title: 'Implant card',
    reference: `case ${eyeCase.code}`,
    printedAt,
    footer: `${standingFooter} Local rules say what an implant card must hold and in which language.`,
  });
  sheet.facts([
    ['Patient', patient?.name ?? ''],
    ['Date of birth', patient === null ? '' : dayInLetters(patient.birthDate)],
    ['Eye', `${eyeInCapitals[unit.eye]} (${unit.eye})`],
    ['Date of implantation', dayInLetters(fromDate(implantation.performedOn))],
    ['Implanted at', clinic.name],
    ['Implanted by', surgeonName],
  ]);
  sheet.heading('Device');
  sheet.facts([
    ['Device name', `${design.name}, toric phakic intraocular lens for the posterior chamber`],
    ['Device model', `${design.code}, version ${design.version}`],
    ['Serial number', lens.serial],
    ['Lot number', lens.lot ?? 'none given by the maker'],
    [
      'UDI',
      lens.gtin === null
        ? 'none on the pack: see the maker’s own label'
        : (symbol.text.split('(91)')[0] ?? ''),
    ],
    ['Power', `${dioptres(unit.sphereD)} / ${dioptres(unit.cylinderD)}, axis ${degrees(unit.axisDeg)}`],
    ['Length', millimetres(unit.lengthMm)],
  ]);
  sheet.heading('Maker');
  sheet.facts([
    ['Name', maker.name],
    ['Address', maker.address ?? ''],
    ['Website', maker.website ?? ''],
  ]);
  sheet.pdf.image(symbol.png, sheet.pdf.page.width - 52 * mm, 40 * mm, { width: 26 * mm });
  sheet.heading('Follow-up and lifetime');
  sheet.facts([
    ['Expected lifetime', 'as the maker’s instructions for use say'],
    [
      'Follow-up',
      'one day, one week, one, three and six months and every year, unless your surgeon says otherwise',
    ],
  ]);
  sheet.cautions([
    'Show this card before any operation or examination of the eye, and before a magnetic resonance scan; the maker’s instructions say what is safe.',
    'Redness, pain, halos that are new or a sudden loss of sight: see an eye doctor the same day.',
    'The lens can be taken out again; keep this card when it is exchanged, and ask for a new one.',
  ]);
  return sheet.finish();
}
