import {
  averageDifferenceUm,
  describeSample,
  learnedCoefficients,
  learnOffsets,
  learnVault,
  leaveOneOutVault,
  offeredOffsets,
  offsetCells,
  prequentialVault,
  sumsOf,
  unexplainedVaultSums,
  vaultSums,
  type LearnedCoefficient,
  type VaultModel,
} from '@lensferry/calculation';
import type { OutcomeQuery, RefractionOffsets, VaultLearning, VaultLearnings } from '@lensferry/contracts';
import { designsOnOffer, type DesignOnOffer } from '../plans/plans.store.js';
import type { Work } from '../platform/work.js';
import { readOperatedEyes, type OperatedEye } from './operated-eyes.queries.js';
import { observedVaults, startOf, type Seen } from './observed-vaults.js';
import { vaultPartOf } from './pool-parts.js';
import { readPool, type PooledSums } from './pool.store.js';
import { refractionErrors } from './refraction-errors.js';
import { selectEyes } from './select-eyes.js';

/** What the vaults of each design with a model on its sheet have taught. Nothing here changes a plan. */
export async function showVaultLearning(work: Work, query: OutcomeQuery): Promise<VaultLearnings> {
  const eyes = selectEyes(await readOperatedEyes(work), {
    ...query,
    designCode: undefined,
    makerId: undefined,
  });
  const designs = await designsOnOffer(work);
  const pool = await readPool(work, 'vault');
  return {
    items: designs
      .filter(
        ({ sheet, code, maker }) =>
          sheet.vaultModel !== null &&
          (query.designCode === undefined || code === query.designCode) &&
          (query.makerId === undefined || maker.id === query.makerId),
      )
      .map((design) => learningOf(design, eyes, pool)),
    note: 'The learned model is shown, not used: plans go by the model on the design’s sheet until a surgeon signs a proposed one.',
  };
}

function learningOf(
  design: DesignOnOffer,
  eyes: readonly OperatedEye[],
  pool: readonly PooledSums[],
): VaultLearning {
  const used = design.sheet.vaultModel as unknown as VaultModel;
  const model = startOf(used);
  const { seen, leftOut } = observedVaults(design.code, model, eyes);
  const learned = learnVault(model, vaultSums(model, seen));
  const enough = seen.length >= 2;
  return {
    designCode: design.code,
    designName: design.name,
    makerName: design.maker.name,
    model: {
      id: model.id,
      version: model.version,
      source: model.source,
      device: model.device,
      residualSdUm: model.residualSdUm,
    },
    n: seen.length,
    leftOut,
    afterDays: daysOf(seen),
    coefficients: learnedCoefficients(learned).map(({ clinic, ...line }) => ({
      ...line,
      clinic: clinic ?? null,
      usedUm: usedUm(line.of, used, model),
    })),
    pooled: pooledWith(
      model,
      seen,
      pool.find(({ of }) => of === vaultPartOf(design.code, model)),
    ),
    leaveOneOut: enough ? leaveOneOut(model, seen) : null,
    prequential: enough ? withoutEyes(prequentialVault(model, seen)) : null,
  };
}

/** A coefficient of the model in use; its vault of an average eye is against the one that learning began from. */
function usedUm(of: LearnedCoefficient['of'], used: VaultModel, start: VaultModel): number | null {
  if (of === 'clinic') return null;
  return of === 'offset' ? averageDifferenceUm(used, start) : (used.coefficients[of] ?? 0);
}

function daysOf(seen: readonly Seen[]): VaultLearning['afterDays'] {
  if (seen.length === 0) return null;
  const { median, min } = describeSample(seen.map(({ daysAfter }) => daysAfter));
  return { median, min };
}

/** All other clinics come in as one more: which of them is which is not told. */
function pooledWith(
  model: VaultModel,
  seen: readonly Seen[],
  others: PooledSums | undefined,
): VaultLearning['pooled'] {
  if (others === undefined) return null;
  const given = unexplainedVaultSums(model, sumsOf(others.sums));
  const learned = learnVault(model, [...vaultSums(model, seen), { clinic: OTHERS, sums: given }]);
  return {
    clinics: others.clinics,
    eyes: others.eyes,
    asOf: others.oldest,
    coefficients: learnedCoefficients(learned).map(({ of, clinic, nowUm, sdUm }) => ({
      of: clinic === OTHERS ? 'others' : of,
      clinic: clinic === undefined || clinic === OTHERS ? null : clinic,
      nowUm,
      sdUm,
    })),
  };
}

/** No clinic's name. */
const OTHERS = '\u0000others';

function leaveOneOut(model: VaultModel, seen: readonly Seen[]): VaultLearning['leaveOneOut'] {
  const check = leaveOneOutVault(model, seen);
  return {
    ...withoutEyes(check),
    points: check.eyes.map((eye, i) => {
      const { from, lengthMm } = seen[i] as Seen;
      return {
        caseId: from.caseId,
        caseCode: from.caseCode,
        eye: from.eye,
        clinic: from.clinic.name,
        lengthMm,
        measuredUm: eye.measuredUm,
        predictedUm: eye.vaultUm,
        lowUm: eye.lowUm,
        highUm: eye.highUm,
        startUm: eye.startUm,
      };
    }),
  };
}

const withoutEyes = ({
  learnedErrorUm,
  startErrorUm,
  coverage,
}: ReturnType<typeof prequentialVault>): NonNullable<VaultLearning['prequential']> => ({
  learnedErrorUm,
  startErrorUm,
  coverage,
});

/** What achieved refraction differs from predicted by; shown here, and offered beside a plan. */
export async function showRefractionOffsets(work: Work, query: OutcomeQuery): Promise<RefractionOffsets> {
  const eyes = selectEyes(await readOperatedEyes(work), query);
  const errors = refractionErrors(eyes);
  return {
    n: errors.length,
    rows: offeredOffsets(learnOffsets(offsetCells(errors))),
    note: 'An offset is shown with its doubt; a plan is made with it only where a surgeon chooses so, with a reason.',
  };
}
