import type { AddDesign, DesignSheet } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { fromDate, toDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { loadMaker } from './edit-maker.js';
import { addDesignVersion } from './makers.store.js';
import { readSheet, writeSheet } from './read-sheet.js';

/** What the file for a new design begins with: numbers in the right form, every one of them to be replaced. */
const example: DesignSheet = {
  sphere: { minD: -18, maxD: 0, stepD: 0.5 },
  cylinder: { minD: -6, maxD: 0, stepD: 0.5 },
  axis: { policy: 'any', stepDeg: 1 },
  lengthsMm: [12, 12.25, 12.5, 12.75, 13],
  lensPlaneOffsetMm: 0.5,
  highCylinderFromD: 4,
  quotedWorkingDays: { stocked: 5, made: 25, high: 35 },
  stocked: null,
  price: { base: '0.00', highCylinder: '0.00' },
  vaultModel: null,
  gtin: null,
};

/** The file to fill in for a design that is not there yet. */
export async function newDesignFile(work: Work, makerId: string, code: string): Promise<string> {
  work.need('maker.edit');
  const { currency } = await loadMaker(work, makerId);
  return writeSheet({ code, currency, sheet: example });
}

/**
 * Adds a design with its first sheet. Its sizes are judged by rule until a vault model is learnt or imported.
 * @throws DomainError `design.taken`, `sheet.faults` with every fault, `sheet.too-early`.
 */
export async function addDesign(
  work: Work,
  makerId: string,
  { code, name, file, validFrom }: AddDesign,
): Promise<void> {
  work.need('maker.edit');
  const maker = await loadMaker(work, makerId);
  if ((await work.tx.design.findUnique({ where: { code } })) !== null) {
    const message = `A design ${code} is there already; choose another code.`;
    throw new DomainError('conflict', 'design.taken', message, { code }, [{ pointer: '/code', message }]);
  }
  const { faults, sheet } = readSheet(file, { code, currency: maker.currency, sheet: example });
  if (sheet === null)
    throw new DomainError(
      'invalid',
      'sheet.faults',
      'Nothing was changed; mend the file first.',
      { faults: faults.map(({ row, column, message }) => `${row}, ${column}: ${message}`) },
      faults.map(({ row, column, message }) => ({
        pointer: `/file/${row}/${column}`,
        message: `Row ${row}, ${column}: ${message}`,
      })),
    );
  if (validFrom < fromDate(work.now)) {
    const message = `Choose ${fromDate(work.now)} or a later day.`;
    throw new DomainError('invalid', 'sheet.too-early', message, {}, [{ pointer: '/validFrom', message }]);
  }
  const designId = uuid();
  await work.tx.design.create({ data: { id: designId, makerId, code, name } });
  await addDesignVersion(work, { designId, version: 1, validFrom: toDate(validFrom), sheet });
  for (const clinicId of work.actor.clinicIds)
    work.record({
      clinicId,
      action: 'maker.design',
      facts: { maker: maker.name, design: code, name, validFrom },
    });
}
