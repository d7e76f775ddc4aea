import type { VaultLearning } from '@lensferry/contracts';
import type { Figure } from './figure-model';
import { shareText, type Say } from './say';

/** Predicted against measured vault, each eye predicted from all others; none below two eyes. */
export function vaultFigures(say: Say, learning: VaultLearning): Figure[] {
  const { t, format } = say;
  const { leaveOneOut, afterDays } = learning;
  if (leaveOneOut === null || afterDays === null) return [];
  const coverage = leaveOneOut.coverage.find(({ level }) => level === 0.8);
  return [
    {
      id: `vault-${learning.designCode.toLowerCase()}`,
      name: t('outcome.figure.learning', { design: learning.designName, maker: learning.makerName }),
      finding: t('outcome.finding.learning', {
        learned: format.um(leaveOneOut.learnedErrorUm),
        start: format.um(leaveOneOut.startErrorUm),
      }),
      basis: t('outcome.learning_basis', {
        smart_count: learning.n,
        left: learning.leftOut,
        median: format.whole(afterDays.median),
        least: format.whole(afterDays.min),
      }),
      notes: coverage ? [t('outcome.note.coverage', { share: shareText(say, coverage) })] : [],
      model: {
        kind: 'points',
        points: leaveOneOut.points.map((point) => ({
          x: point.measuredUm,
          y: point.predictedUm,
          low: point.lowUm,
          high: point.highUm,
        })),
        xLabel: t('outcome.axis.measured_vault'),
        yLabel: t('outcome.axis.predicted_vault'),
        diagonal: true,
        line: null,
      },
      table: {
        head: [
          t('outcome.head.case'),
          t('outcome.head.length'),
          t('outcome.head.measured'),
          t('outcome.head.predicted'),
          t('outcome.head.eight_in_ten'),
          t('outcome.head.start'),
        ],
        rows: leaveOneOut.points.map((point) => [
          point.caseCode,
          format.mm(point.lengthMm),
          format.um(point.measuredUm),
          format.um(point.predictedUm),
          format.umRange(point.lowUm, point.highUm),
          format.um(point.startUm),
        ]),
      },
    },
  ];
}
