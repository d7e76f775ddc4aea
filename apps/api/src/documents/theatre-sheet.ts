import { eyeInCapitals } from '@lensferry/domain';
import { fromDate } from '../platform/plain-date.js';
import { drawEye } from './eye-drawing.js';
import { dayInLetters, degrees, dioptres, millimetres, refractionInWords, turnInWords } from './in-words.js';
import type { TheatreFacts } from './documents.queries.js';
import { mm, Sheet, standingFooter } from './sheet.js';

/** Where the cylinder's axis comes to lie once the lens has been turned: 1 to 180, null without a cylinder. */
export function axisInPlace(axisDeg: number | null, turnDeg: number): number | null {
  if (axisDeg === null) return null;
  const turned = ((Math.round(axisDeg + turnDeg) % 180) + 180) % 180 || 180;
  return turned;
}

type Ordered = TheatreFacts & {
  order: NonNullable<TheatreFacts['order']>;
  specification: NonNullable<TheatreFacts['specification']>;
};

/** The sheet for the day of the operation: the eye in capitals, the lens, where its axis lies and the turn to make. */
export function theatreSheet(facts: Ordered, printedAt: Date): Promise<Buffer> {
  const { eyeCase, clinic, surgeonName, order, specification, plan, lens, theatreOn, inEye } = facts;
  const sheet = new Sheet({
    title: 'Theatre sheet',
    reference: `case ${eyeCase.code} · ${eyeCase.patient.codeName} · order ${order.number}`,
    printedAt,
    footer: standingFooter,
  });
  const turnDeg = plan?.chosen.turnDeg ?? 0;
  const cylinderAxisDeg = axisInPlace(specification.axisDeg, turnDeg);
  sheet.shout(`${eyeInCapitals[eyeCase.eye]} EYE`, 30);
  sheet.facts([
    ['Theatre date', theatreOn === null ? '' : dayInLetters(theatreOn)],
    ['Surgeon', surgeonName],
    ['Clinic', clinic.name],
    ...(inEye === null ? [] : [['EXCHANGE: take out', `lens ${inEye.serial}`] as const]),
    [
      'Lens',
      lens === null
        ? 'NOT HERE: no accepted lens is reserved for this case'
        : `serial ${lens.serial}, lot ${lens.lot ?? 'none'}, expires ${dayInLetters(fromDate(lens.expiresOn))}`,
    ],
    ['Power', `${dioptres(specification.sphereD)} / ${dioptres(specification.cylinderD)}`],
    ['Cylinder axis as made', degrees(specification.axisDeg)],
    ['Length', millimetres(specification.lengthMm)],
  ]);
  drawing(sheet, { eye: eyeCase.eye, turnDeg, cylinderAxisDeg });
  sheet.facts(
    [
      ['Turn to make', turnInWords(turnDeg)],
      ['Cylinder axis in the eye', degrees(cylinderAxisDeg)],
      ...(plan === null ? [] : [['Expected refraction', refractionInWords(plan.chosen.predicted)] as const]),
    ],
    { size: 12 },
  );
  sheet.heading('Check in theatre');
  sheet.facts([
    ['Serial read off the pack', ''],
    ['Eye confirmed with the patient', ''],
    ['Axis where the lens came to lie', ''],
  ]);
  sheet.cautions([
    ...facts.findings.map(({ message }) => message),
    'Degrees are as the surgeon faces the patient: 0 at the right of the drawing, counter-clockwise, for either eye.',
    'Mark the axis with the patient upright; the eye turns when the patient lies down.',
    'Compare serial, eye and power on the pack with this sheet before it is opened.',
  ]);
  return sheet.finish();
}

function drawing(sheet: Sheet, marks: Parameters<typeof drawEye>[4]): void {
  const { pdf } = sheet;
  const radius = 26 * mm;
  const middle = pdf.y + radius + 12 * mm;
  drawEye(pdf, pdf.page.width / 2, middle, radius, marks);
  pdf.x = pdf.page.margins.left;
  pdf.y = middle + radius + 10 * mm;
}
