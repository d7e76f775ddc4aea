import { exchangeSize, type VaultModel } from '@lensferry/calculation';
import type { ExchangeProposal, SizeOption } from '@lensferry/contracts';
import { gatherEye } from '@lensferry/domain';
import { factsOf, firstSurgeryOf, lensInEye, measuredBehind, type CaseRow } from '../cases/cases.store.js';
import type { Work } from '../platform/work.js';
import { sizingEye } from '../plans/compute-plan.js';
import { designsOnOffer, type DesignOnOffer } from '../plans/plans.store.js';

/** What another size of a design would do in this eye, by its own measured vault. */
export interface SizeProposal {
  readonly currentLengthMm: number;
  readonly measuredUm: readonly number[];
  readonly suggestedLengthMm: number;
  readonly keep: boolean;
  readonly forecasts: SizeOption[];
  readonly reasons: string[];
}

/** Null when no lens is in the eye or its vault was never measured. */
export function proposeExchange(row: CaseRow, design: DesignOnOffer): SizeProposal | null {
  const inEye = lensInEye(row);
  if (inEye === undefined) return null;
  const vaults = measuredBehind(row, inEye.lensId).filter(({ kind }) => kind === 'vault');
  if (vaults.length === 0) return null;
  const latestDay = vaults.at(-1)?.takenOn;
  const measuredUm = vaults
    .filter(({ takenOn }) => takenOn === latestDay)
    .map(({ values }) => Number(values['vaultUm']));
  const { eye } = gatherEye(factsOf(row.measurements), firstSurgeryOf(row));
  const { lengthMm } = inEye.lens.lens as { lengthMm: number };
  const suggestion = exchangeSize({
    currentLengthMm: lengthMm,
    measuredUm,
    lengthsMm: design.sheet.lengthsMm,
    ...(eye === null ? {} : { eye: sizingEye(eye) }),
    ...(design.sheet.vaultModel === null ? {} : { model: design.sheet.vaultModel as unknown as VaultModel }),
  });
  return {
    currentLengthMm: lengthMm,
    measuredUm,
    suggestedLengthMm: suggestion.suggestedLengthMm,
    keep: suggestion.verdict === 'keep',
    forecasts: suggestion.sizes.map(({ lengthMm: length, vaultUm, low, intended, high }) => ({
      lengthMm: length,
      vaultUm,
      low,
      intended,
      high,
    })),
    reasons: suggestion.reasons.map(({ message }) => message),
  };
}

/** The proposal in the design of the lens that is in the eye, as the case page shows it. */
export async function proposalFor(work: Work, row: CaseRow): Promise<ExchangeProposal | null> {
  const inEye = lensInEye(row);
  const order = row.orders.find(({ id }) => id === inEye?.lens.orderId);
  if (inEye === undefined || order === undefined) return null;
  if (!measuredBehind(row, inEye.lensId).some(({ kind }) => kind === 'vault')) return null;
  const designs = await designsOnOffer(work);
  const design =
    designs.find(({ id }) => id === order.designVersionId) ??
    (await latestOf(work, designs, order.designVersionId));
  if (design === undefined) return null;
  const proposal = proposeExchange(row, design);
  if (proposal === null) return null;
  const measured = Math.round(
    proposal.measuredUm.reduce((sum, value) => sum + value, 0) / proposal.measuredUm.length,
  );
  const { currentLengthMm, suggestedLengthMm, keep } = proposal;
  return {
    designVersionId: design.id,
    currentLengthMm,
    measuredVaultUm: measured,
    proposedLengthMm: keep ? null : suggestedLengthMm,
    sizes: proposal.forecasts.map(({ lengthMm, vaultUm, intended }) => ({ lengthMm, vaultUm, intended })),
    sentence: keep
      ? `The vault of ${measured} µm asks for no other size.`
      : `The vault of ${measured} µm with ${currentLengthMm.toFixed(2)} mm asks for ${suggestedLengthMm.toFixed(2)} mm, same power.${surer(proposal)}`,
    reasons: proposal.reasons,
  };
}

/** The smallest change that reaches the band is proposed; a larger one may be surer, and then it is said. */
function surer({ forecasts, suggestedLengthMm }: SizeProposal): string {
  const proposed = forecasts.find(({ lengthMm }) => lengthMm === suggestedLengthMm);
  const best = forecasts.reduce((top, next) => (next.intended > top.intended ? next : top));
  if (proposed === undefined || best.intended < proposed.intended + 0.1) return '';
  const share = (of: SizeOption): string => `${Math.round(100 * of.intended)} %`;
  return ` It is the smallest change that reaches the band, with ${share(proposed)} of such eyes inside it; ${best.lengthMm.toFixed(2)} mm would have ${share(best)}.`;
}

/** The version on offer of the design that a version belongs to. */
async function latestOf(
  work: Work,
  designs: readonly DesignOnOffer[],
  versionId: string,
): Promise<DesignOnOffer | undefined> {
  const { designId } = await work.tx.designVersion.findUniqueOrThrow({ where: { id: versionId } });
  const versions = await work.tx.designVersion.findMany({ where: { designId }, select: { id: true } });
  const ids = new Set(versions.map(({ id }) => id));
  return designs.find(({ id }) => ids.has(id));
}
