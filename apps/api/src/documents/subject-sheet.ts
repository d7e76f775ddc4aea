import type { SubjectExport } from '@lensferry/contracts';
import { Sheet, standingFooter, type Fact } from './sheet.js';

const moment = (at: string): string => `${at.slice(0, 16).replace('T', ' ')} UTC`;
const inWords = (value: unknown): string =>
  value !== null && typeof value === 'object' ? JSON.stringify(value) : String(value ?? 'none');

/** What is held about a person, to be read by that person; the JSON of the same export has every last number. */
export function subjectSheet(held: SubjectExport, printedAt: Date): Promise<Buffer> {
  const sheet = new Sheet({
    title: 'What is held about you',
    reference: `${held.clinic} · ${held.codeName}`,
    printedAt,
    footer: standingFooter,
  });
  sheet.paragraph(`Written for the person it is about by ${held.madeBy}, ${moment(held.madeAt)}.`);
  sheet.heading('Who you are');
  sheet.facts(whoOf(held));
  for (const one of held.cases) writeCase(sheet, one);
  sheet.heading('Who looked at your identity');
  sheet.facts(
    held.looks.length === 0
      ? [['Nobody', 'none on record']]
      : held.looks.map(({ at, by }): Fact => [moment(at), by]),
  );
  return sheet.finish();
}

function whoOf({ identity, identityErasedAt, codeName, birthYear }: SubjectExport): Fact[] {
  const code: Fact[] = [
    ['Code name', codeName],
    ['Year of birth', String(birthYear)],
  ];
  if (identity !== null)
    return [
      ['Name', identity.name],
      ['Date of birth', identity.birthDate],
      ['Record number', identity.recordNumber || 'none'],
      ...code,
    ];
  return [
    ['Identity', identityErasedAt === null ? 'never entered' : `erased ${moment(identityErasedAt)}`],
    ...code,
  ];
}

function writeCase(sheet: Sheet, one: SubjectExport['cases'][number]): void {
  sheet.heading(`${one.eye === 'OD' ? 'Right eye (OD)' : 'Left eye (OS)'}: case ${one.code}`);
  sheet.facts([
    ['Opened', moment(one.openedAt)],
    ['Stage', one.stage.replaceAll('_', ' ')],
    ['Surgeon', one.surgeon.name],
    ...one.orders.map((order): Fact => [`Order ${order.number}`, order.state.replaceAll('_', ' ')]),
    ...one.lenses.map((lens): Fact => [`Lens ${lens.serial}`, `${lens.state.replaceAll('_', ' ')}`]),
    ...one.implantations.map((done): Fact => [
      `Implanted ${done.performedOn}`,
      `serial ${done.serial}, by ${done.surgeonName}, axis ${done.axisDeg}°${done.explantedOn === null ? '' : `, taken out ${done.explantedOn}`}`,
    ]),
  ]);
  sheet.heading('Measured');
  for (const { kind, takenOn, device, observer, values, corrected } of one.measurements) {
    const numbers = Object.entries(values).map(([name, value]) => `${name} ${inWords(value)}`);
    sheet.paragraph(
      `${takenOn}, ${kind.replaceAll('_', ' ')} (${[device, observer].filter(Boolean).join(', ')})${corrected ? ', corrected later' : ''}: ${numbers.join(', ')}`,
    );
  }
  sheet.heading('What was done');
  for (const { at, actorName, action, why } of one.history)
    sheet.paragraph(`${moment(at)}, ${actorName}: ${action}${why === null ? '' : `, because ${why}`}`, 8.5);
}
