import { DesignSheet, type ImportSheet, type SheetPreview } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { fromDate, toDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { addDesignVersion, newestDesignVersion } from './makers.store.js';
import { differencesOf, readSheet, writeSheet, type PresentSheet } from './read-sheet.js';

interface Newest extends PresentSheet {
  readonly designId: string;
  readonly makerName: string;
  readonly version: number;
  readonly validFrom: string;
}

/** The newest sheet of a design as a file; also one that is valid only from a day to come, since that is edited next. */
export async function exportSheet(work: Work, makerId: string, code: string): Promise<string> {
  work.need('maker.read');
  return writeSheet(await newestOf(work, makerId, code));
}

/** What a file would change, or everything that is wrong with it; keeps nothing. */
export async function previewSheet(
  work: Work,
  makerId: string,
  code: string,
  file: string,
): Promise<SheetPreview> {
  work.need('maker.edit');
  const newest = await newestOf(work, makerId, code);
  const { faults, sheet } = readSheet(file, newest);
  return {
    newest: newest.version,
    newestValidFrom: newest.validFrom,
    earliest: earliestOf(work, newest),
    faults,
    differences: sheet === null ? [] : differencesOf(newest, sheet),
  };
}

/**
 * Makes a new version of a design from a file. Orders and plans keep the version that they were made with.
 * @throws DomainError `design.missing`, `sheet.moved`, `sheet.faults`, `sheet.unchanged`, `sheet.too-early`.
 */
export async function importSheet(
  work: Work,
  makerId: string,
  code: string,
  { file, newest: seen, validFrom }: ImportSheet,
): Promise<void> {
  work.need('maker.edit');
  const newest = await newestOf(work, makerId, code, true);
  if (newest.version !== seen)
    throw new DomainError(
      'conflict',
      'sheet.moved',
      `This design is at version ${newest.version} by now; look at what the file changes once more.`,
      { version: newest.version },
    );
  const { faults, sheet } = readSheet(file, newest);
  if (sheet === null)
    throw new DomainError('invalid', 'sheet.faults', 'Nothing was changed; mend the file first.', {
      faults: faults.map(({ row, column, message }) => `${row}, ${column}: ${message}`),
    });
  const differences = differencesOf(newest, sheet);
  if (differences.length === 0)
    throw new DomainError('refused', 'sheet.unchanged', 'The file says what the sheet says already.');
  const earliest = earliestOf(work, newest);
  if (validFrom < earliest) {
    const message = `Choose ${earliest} or a later day.`;
    throw new DomainError('invalid', 'sheet.too-early', message, { earliest }, [
      { pointer: '/validFrom', message },
    ]);
  }
  const version = newest.version + 1;
  await addDesignVersion(work, { designId: newest.designId, version, validFrom: toDate(validFrom), sheet });
  const facts = { maker: newest.makerName, design: code, version, validFrom, differences };
  for (const clinicId of work.actor.clinicIds) work.record({ clinicId, action: 'maker.sheet', facts });
}

/** Never in the past, where plans were made by the old sheet, and never before the version that it follows. */
const earliestOf = ({ now }: Work, { validFrom }: Newest): string =>
  [fromDate(now), validFrom].sort().at(-1) ?? validFrom;

async function newestOf(work: Work, makerId: string, code: string, lock = false): Promise<Newest> {
  const design = await newestDesignVersion(work, { makerId, code, lock });
  const version = design?.versions[0];
  if (design === null || version === undefined)
    throw new DomainError('missing', 'design.missing', 'This maker has no such design.');
  return {
    designId: design.id,
    code: design.code,
    currency: design.maker.currency,
    makerName: design.maker.name,
    version: version.version,
    validFrom: fromDate(version.validFrom),
    sheet: DesignSheet.parse(version.sheet),
  };
}
