import type { DesignSheet } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { designsOnOffer } from '../plans/plans.store.js';
import { fromDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { addDesignVersion, newestDesignVersion } from '../makers/makers.store.js';
import type { SheetModel } from './observed-vaults.js';

/** A design whose newest version is in use and has a model, kept from others until the work ends. */
export interface DesignInHand {
  readonly id: string;
  readonly code: string;
  readonly makerName: string;
  readonly version: number;
  readonly sheet: DesignSheet;
  readonly model: SheetModel;
}

/**
 * Takes a design in hand to change its model.
 * @throws DomainError `design.missing`, `model.none`, `model.sheet-moved`, `model.sheet-waits`.
 */
export async function takeDesign(work: Work, code: string, seen: number): Promise<DesignInHand> {
  const valid = (await designsOnOffer(work)).find((design) => design.code === code);
  if (valid === undefined)
    throw new DomainError('missing', 'design.missing', 'This maker has no such design.');
  const design = await newestDesignVersion(work, { makerId: valid.maker.id, code, lock: true });
  const newest = design?.versions[0];
  if (design === null || newest === undefined)
    throw new DomainError('missing', 'design.missing', 'This maker has no such design.');
  if (newest.version !== seen)
    throw new DomainError(
      'conflict',
      'model.sheet-moved',
      `This design is at version ${newest.version} by now; look at its model once more.`,
      { version: newest.version },
    );
  if (newest.validFrom > work.now) {
    const validFrom = fromDate(newest.validFrom);
    throw new DomainError(
      'conflict',
      'model.sheet-waits',
      `A new sheet of this design is valid from ${validFrom}; change its model from then on.`,
      { validFrom },
    );
  }
  const sheet = newest.sheet as unknown as DesignSheet;
  if (sheet.vaultModel === null)
    throw new DomainError(
      'refused',
      'model.none',
      'This design has no vault model; import one with its sheet.',
    );
  return {
    id: design.id,
    code,
    makerName: design.maker.name,
    version: newest.version,
    sheet,
    model: sheet.vaultModel as unknown as SheetModel,
  };
}

/** The newest model before the one in use that differs from it, or null. */
export async function formerModel({ tx }: Work, design: DesignInHand): Promise<SheetModel | null> {
  const versions = await tx.designVersion.findMany({
    where: { designId: design.id, version: { lt: design.version } },
    orderBy: { version: 'desc' },
  });
  return (
    versions
      .map(({ sheet }) => (sheet as unknown as DesignSheet).vaultModel as unknown as SheetModel | null)
      .find((model) => model !== null && nameOf(model) !== nameOf(design.model)) ?? null
  );
}

/** What a model is known by. */
export const nameOf = ({ id, version }: SheetModel): string => `${id} ${version}`;

/** Adds the version with another model, from today on. Plans and orders keep the version they were made with. */
export async function putIntoUse(work: Work, design: DesignInHand, model: SheetModel): Promise<number> {
  const version = design.version + 1;
  const validFrom = new Date(`${fromDate(work.now)}T00:00:00.000Z`);
  const sheet = { ...design.sheet, vaultModel: model as unknown as DesignSheet['vaultModel'] };
  await addDesignVersion(work, { designId: design.id, version, validFrom, sheet });
  return version;
}
