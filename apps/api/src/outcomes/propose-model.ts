import {
  averageVault,
  learnedVaultModel,
  learnVault,
  prequentialVault,
  standingVault,
  vaultSums,
} from '@lensferry/calculation';
import type { ModelCheck, ProposeModel } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { fromDate } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';
import { observedVaults, startOf, type Seen, type SheetModel } from './observed-vaults.js';
import { readOperatedEyes } from './operated-eyes.queries.js';
import { LEAST_SUBJECTS } from './pool.store.js';
import { formerModel, nameOf, takeDesign, type DesignInHand } from './vault-models.store.js';

/**
 * Proposes a vault model for a design: the one learned from the eyes that the proposer sees, or the former one. What
 * is known of it now is kept with it. A proposal that was open is replaced; nothing that is planned changes.
 * @throws DomainError `model.too-few`, `model.no-former`, and those of `takeDesign`.
 */
export async function proposeModel(work: Work, input: ProposeModel): Promise<void> {
  work.need('model.propose');
  const design = await takeDesign(work, input.designCode, input.version);
  const eyes = await readOperatedEyes(work);
  const { seen } = observedVaults(design.code, startOf(design.model), eyes);
  const patients = new Set(seen.map(({ from }) => from.patientId)).size;
  if (patients < LEAST_SUBJECTS)
    throw new DomainError(
      'refused',
      'model.too-few',
      `A model is learned from ${LEAST_SUBJECTS} patients or more with what it needs; here there are ${patients}.`,
      { least: LEAST_SUBJECTS, patients },
    );
  const model = input.kind === 'learned' ? learnedModel(work, design, seen) : await former(work, design);
  const check = checkOf(design, model, seen, input.kind);
  await work.tx.modelProposal.updateMany({
    where: { designId: design.id, state: 'open' },
    data: { state: 'replaced' },
  });
  await work.tx.modelProposal.create({
    data: {
      id: uuid(),
      designId: design.id,
      kind: input.kind,
      state: 'open',
      basedOn: design.version,
      model: model as unknown as Prisma.InputJsonObject,
      check: check as unknown as Prisma.InputJsonObject,
      why: input.why,
      proposedBy: work.actor.name,
      proposedById: work.personId,
      proposedAt: work.now,
    },
  });
  const facts = { maker: design.makerName, design: design.code, model: nameOf(model), eyes: seen.length };
  for (const clinicId of work.actor.clinicIds)
    work.record({ clinicId, action: 'model.propose', facts, why: input.why });
}

/** For an average clinic, always from the model that came with the sheet: no eye is counted twice. */
function learnedModel(work: Work, design: DesignInHand, seen: readonly Seen[]): SheetModel {
  const start = startOf(design.model);
  const version = `${fromDate(work.now)}-${design.version + 1}`;
  const learned = learnedVaultModel(learnVault(start, vaultSums(start, seen)), { version });
  return { ...learned, learnedFrom: start };
}

async function former(work: Work, design: DesignInHand): Promise<SheetModel> {
  const model = await formerModel(work, design);
  if (model === null)
    throw new DomainError('refused', 'model.no-former', 'No earlier version went by another model.');
  return model;
}

function checkOf(
  design: DesignInHand,
  model: SheetModel,
  given: readonly Seen[],
  kind: ProposeModel['kind'],
): ModelCheck {
  const before = standingVault(design.model, given);
  const after = kind === 'learned' ? inTurn(design, given) : standingVault(model, given);
  return {
    eyes: given.length,
    upTo: given.at(-1)?.measuredOn ?? '',
    how: kind === 'learned' ? 'prequential' : 'as-it-stands',
    before,
    after,
    lengths: design.sheet.lengthsMm.map((lengthMm) => ({
      lengthMm,
      before: averageVault(design.model, lengthMm),
      after: averageVault(model, lengthMm),
    })),
  };
}

function inTurn(design: DesignInHand, seen: readonly Seen[]): ModelCheck['after'] {
  const { learnedErrorUm, coverage } = prequentialVault(startOf(design.model), seen);
  return { errorUm: learnedErrorUm, coverage };
}
