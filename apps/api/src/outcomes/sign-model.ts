import type { SignModel } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { requireSigner } from '../orders/sign-order.js';
import { canonicalHash } from '../platform/audit.js';
import type { Work } from '../platform/work.js';
import type { SheetModel } from './observed-vaults.js';
import { nameOf, putIntoUse, takeDesign } from './vault-models.store.js';

/**
 * Signs the open proposal and puts its model into use as a new version of the design, from today on. Only what was
 * proposed is signed: the model is taken from the proposal, not learned again.
 * @throws DomainError `model.missing`, `model.not-open`, `person.password`, and those of `takeDesign`.
 */
export async function signModel(work: Work, proposalId: string, { password }: SignModel): Promise<void> {
  work.need('model.sign');
  const found = await work.tx.modelProposal.findUnique({
    where: { id: proposalId },
    include: { design: true },
  });
  if (found === null) throw new DomainError('missing', 'model.missing', 'There is no such proposal.');
  const signer = await requireSigner(work, password);
  // The design is locked before the proposal is looked at: of two signatures at once, the second finds it signed.
  await work.tx.$queryRaw`select id from design where id = ${found.designId}::uuid for update`;
  const proposal = await work.tx.modelProposal.findUniqueOrThrow({ where: { id: proposalId } });
  if (proposal.state !== 'open')
    throw new DomainError(
      'conflict',
      'model.not-open',
      'This proposal is no longer the open one; look at what is proposed now.',
    );
  const design = await takeDesign(work, found.design.code, proposal.basedOn);
  const model = proposal.model as unknown as SheetModel;
  const version = await putIntoUse(work, design, model);
  await work.tx.modelProposal.update({
    where: { id: proposalId },
    data: { state: 'signed', signedBy: signer.name, signedById: signer.id, signedAt: work.now, version },
  });
  const facts = {
    maker: design.makerName,
    design: design.code,
    model: nameOf(model),
    modelHash: canonicalHash(proposal.model),
    version,
    proposedBy: proposal.proposedBy,
  };
  for (const clinicId of work.actor.clinicIds)
    work.record({ clinicId, action: 'model.sign', facts, why: proposal.why });
}
