import type { Recall, RecallQuery } from '@lensferry/contracts';
import { grouped } from '../platform/grouped.js';
import type { Work } from '../platform/work.js';
import { findLenses } from './lenses.queries.js';

/** More units than any recall of lenses that are made one by one. */
const most = 5000;

/**
 * Finds every unit of a lot or a design at the clinics that the person may see, with the eyes affected; those with a
 * unit in the eye come first. Finds nothing until a lot or a design is named.
 */
export async function recall(work: Work, { lot, designCode }: RecallQuery): Promise<Recall> {
  if (lot === undefined && designCode === undefined) return { lenses: [], byState: {}, cases: [] };
  const versions =
    designCode === undefined
      ? []
      : await work.tx.designVersion.findMany({
          where: { design: { code: designCode } },
          select: { id: true },
        });
  const lenses = await findLenses(
    work,
    {
      ...(lot === undefined ? {} : { lot: { equals: lot, mode: 'insensitive' } }),
      ...(designCode === undefined
        ? {}
        : { order: { designVersionId: { in: versions.map(({ id }) => id) } } }),
    },
    most,
  );
  const byCase = grouped(lenses, (lens) => lens.case?.id ?? '');
  const cases = [...byCase.values()].flatMap((units) => {
    const [first] = units;
    if (first?.case == null) return [];
    const inEye = units.some(({ state }) => state === 'implanted');
    return [
      { ...first.case, clinicName: first.clinic.name, inEye, serials: units.map(({ serial }) => serial) },
    ];
  });
  return {
    lenses,
    byState: Object.fromEntries(
      [...grouped(lenses, ({ state }) => state)].map(([state, units]) => [state, units.length]),
    ),
    cases: cases.sort((a, b) => Number(b.inEye) - Number(a.inEye) || a.code.localeCompare(b.code)),
  };
}
