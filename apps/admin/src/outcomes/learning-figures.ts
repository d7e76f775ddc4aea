import type { MakerScorecards, VaultLearning } from '@lensferry/contracts';
import type { Figure } from './figure-model';
import { shareText, type Say } from './say';

/** Predicted against measured vault, each eye predicted from all others; null below two eyes. */
export function vaultFigure(say: Say, learning: VaultLearning): Figure | null {
  const { t, format } = say;
  const { leaveOneOut } = learning;
  if (leaveOneOut === null) return null;
  const coverage = leaveOneOut.coverage.find(({ level }) => level === 0.8);
  return {
    id: `vault-${learning.designCode.toLowerCase()}`,
    name: t('outcome.figure.learning', { design: learning.designName, maker: learning.makerName }),
    finding: t('outcome.finding.learning', {
      learned: format.um(leaveOneOut.learnedErrorUm),
      start: format.um(leaveOneOut.startErrorUm),
    }),
    basis: t('outcome.learning_basis', { smart_count: learning.n, left: learning.leftOut }),
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
        t('outcome.head.sheet'),
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
  };
}

/** One funnel for each thing that makers are held to. */
export function makerFigures(say: Say, { items, overall }: MakerScorecards): Figure[] {
  const { t, format } = say;
  return (['promiseKept', 'labelMismatch', 'exchanged'] as const).map((what) => {
    const outside = items.filter(({ [what]: of }) => of.standing.startsWith('outside'));
    const all = overall[what];
    return {
      id: `makers-${what.toLowerCase()}`,
      name: t(`outcome.maker.${what}`),
      finding:
        outside.length === 0
          ? t('outcome.finding.funnel_none')
          : t('outcome.finding.funnel', { makers: outside.map(({ name }) => name).join(', ') }),
      basis:
        all === null
          ? t('outcome.finding.too_few')
          : t('outcome.maker_basis', { share: shareText(say, all), n: format.whole(all.n) }),
      notes: [t('outcome.note.funnel')],
      model: {
        kind: 'funnel',
        rows: items.map(({ name, [what]: of }) => ({
          label: name,
          share: of.share?.share ?? null,
          inner: of.limits95,
          outer: of.limits998,
        })),
        overall: all?.share ?? null,
      },
      table: {
        head: [
          t('outcome.head.maker'),
          t('outcome.head.count'),
          t('outcome.head.share'),
          t('outcome.head.chance'),
          t('outcome.head.standing'),
        ],
        rows: items.map(({ name, [what]: of }) => [
          name,
          of.share === null ? '0' : `${format.whole(of.share.count)} / ${format.whole(of.share.n)}`,
          of.share === null ? '' : format.percent(of.share.share),
          of.limits95 === null ? '' : `${format.percent(of.limits95[0])} – ${format.percent(of.limits95[1])}`,
          t(`outcome.standing.${of.standing}`),
        ]),
      },
    };
  });
}
