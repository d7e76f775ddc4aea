import { ModelCheck, type DesignModels, type DesignSheet, type VaultModels } from '@lensferry/contracts';
import { fromDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import type { SheetModel } from './observed-vaults.js';
import { nameOf } from './vault-models.store.js';

/** What vault model each design goes by, what is proposed, and what it went by before. */
export async function showModels({ tx }: Work): Promise<VaultModels> {
  const designs = await tx.design.findMany({
    include: {
      maker: true,
      versions: { orderBy: { version: 'desc' } },
      proposals: { where: { state: { in: ['open', 'signed'] } } },
    },
    orderBy: { code: 'asc' },
  });
  return { items: designs.flatMap(modelsOf) };
}

interface Row {
  readonly code: string;
  readonly name: string;
  readonly maker: { readonly name: string };
  readonly versions: readonly { version: number; validFrom: Date; sheet: unknown }[];
  readonly proposals: readonly Proposal[];
}

interface Proposal {
  readonly id: string;
  readonly kind: string;
  readonly state: string;
  readonly basedOn: number;
  readonly model: unknown;
  readonly check: unknown;
  readonly why: string;
  readonly proposedBy: string;
  readonly proposedAt: Date;
  readonly signedBy: string | null;
  readonly signedAt: Date | null;
  readonly version: number | null;
}

function modelsOf({ code, name, maker, versions, proposals }: Row): DesignModels[] {
  const models = versions.map(
    ({ sheet }) => (sheet as DesignSheet).vaultModel as unknown as SheetModel | null,
  );
  const [newest, inUse] = [versions[0], models[0]];
  if (newest === undefined || !inUse) return [];
  const open = proposals.find(({ state, basedOn }) => state === 'open' && basedOn === newest.version);
  return [
    {
      designCode: code,
      designName: name,
      makerName: maker.name,
      version: newest.version,
      inUse: named(inUse),
      open: open === undefined ? null : openOf(open),
      hasFormer: models.some((model) => model !== null && nameOf(model) !== nameOf(inUse)),
      history: versions.map(({ version, validFrom }, i) => ({
        version,
        validFrom: fromDate(validFrom),
        model: models[i] ? named(models[i]) : null,
        signed: signedOf(proposals.find((proposal) => proposal.version === version)),
      })),
    },
  ];
}

const named = ({ id, version, source, residualSdUm }: SheetModel): DesignModels['inUse'] => ({
  id,
  version,
  source,
  residualSdUm,
});

const openOf = ({ id, kind, basedOn, model, check, why, proposedBy, proposedAt }: Proposal) => ({
  id,
  kind: kind as 'learned' | 'former',
  basedOn,
  model: named(model as SheetModel),
  check: ModelCheck.parse(check),
  why,
  proposedBy,
  proposedAt: proposedAt.toISOString(),
});

function signedOf(proposal: Proposal | undefined): DesignModels['history'][number]['signed'] {
  if (!proposal?.signedBy || !proposal.signedAt) return null;
  const { signedBy, signedAt, proposedBy, why } = proposal;
  return { by: signedBy, at: signedAt.toISOString(), proposedBy, why };
}
