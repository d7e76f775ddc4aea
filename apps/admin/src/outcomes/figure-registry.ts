import type { MakerScorecard, MakerScorecards, OutcomeReport, VaultLearning } from '@lensferry/contracts';
import { acuityFigures } from './acuity-figures';
import { astigmatismFigures } from './astigmatism-figures';
import type { Figure } from './figure-model';
import { leadFigures } from './lead-figures';
import { vaultFigures } from './learning-figures';
import { makerFigures } from './maker-figures';
import { modelFigures, type ModelOfDesign } from './model-figures';
import { refractionFigures } from './refraction-figures';
import type { Say } from './say';
import { vaultReportFigures } from './vault-figures';

type Draw<From> = (say: Say, from: From) => Figure[];

/** The parts of a report, in the order of the page. */
export const reportParts = ['sight', 'refraction', 'astigmatism'] as const;

/**
 * Every figure of the outcomes, by what it is drawn from. Screens draw from here and from nowhere else, so that the
 * spec beside it holds all of them to the same things.
 */
export const figures = {
  sight: acuityFigures,
  refraction: refractionFigures,
  astigmatism: (say, report) => [...astigmatismFigures(say, report), ...vaultReportFigures(say, report)],
  learning: vaultFigures,
  model: modelFigures,
  makers: makerFigures,
  leadTimes: leadFigures,
} as const satisfies Record<(typeof reportParts)[number], Draw<OutcomeReport>> & {
  learning: Draw<VaultLearning>;
  model: Draw<ModelOfDesign>;
  makers: Draw<MakerScorecards>;
  leadTimes: Draw<MakerScorecard>;
};
