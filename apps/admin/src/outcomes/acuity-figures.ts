import { writeAcuity } from '@lensferry/calculation';
import type { OutcomeReport } from '@lensferry/contracts';
import type { Figure } from './figure-model';
import { barOf, basisOf, shareCells, shareHead, shareText, type Say } from './say';

/** Sight: cumulative, against what spectacles gave, and lines gained or lost. */
export function acuityFigures(say: Say, { figures, references }: OutcomeReport): Figure[] {
  return [
    ...cumulative(say, figures),
    ...against(say, figures),
    ...lines(say, figures, references.lostALine),
  ];
}

type Figures = OutcomeReport['figures'];

function cumulative(say: Say, figures: Figures): Figure[] {
  const found = figures.uncorrectedAcuity;
  if (found === null) return [];
  const { t } = say;
  const rows = found.rows.filter(({ logMar }) => logMar <= 0.61);
  const half = rows.find(({ logMar }) => Math.abs(logMar - 0.3) < 0.01) ?? rows[0];
  if (half === undefined) return [];
  const label = (logMar: number) => writeAcuity(logMar, 'metres');
  return [
    {
      id: 'cumulative-acuity',
      name: t('outcome.figure.cumulative'),
      finding: t('outcome.finding.cumulative', { share: shareText(say, half.uncorrectedAfter) }),
      basis: basisOf(say, figures, found.n),
      notes: [],
      model: {
        kind: 'bars',
        groups: rows.map(({ logMar, uncorrectedAfter, correctedBefore }) => ({
          label: label(logMar),
          bars: [barOf(uncorrectedAfter), barOf(correctedBefore)],
        })),
        series: [t('outcome.series.unaided_after'), t('outcome.series.spectacles_before')],
        xLabel: t('outcome.axis.acuity'),
        yLabel: t('outcome.axis.cumulative_share'),
      },
      table: {
        head: [
          t('outcome.axis.acuity'),
          ...shareHead(say),
          ...shareHead(say).map((head) => `${head} (${t('outcome.before')})`),
        ],
        rows: rows.map(({ logMar, uncorrectedAfter, correctedBefore }) => [
          label(logMar),
          ...shareCells(say, uncorrectedAfter),
          ...shareCells(say, correctedBefore),
        ]),
      },
    },
  ];
}

function against(say: Say, figures: Figures): Figure[] {
  const found = figures.uncorrectedAgainstCorrected;
  if (found === null) return [];
  const { t } = say;
  // Whole lines: the bar from -1.5 to -0.5 holds one line lost.
  const names = ['−3', '−2', '−1', '0', '+1', '+2', '+3'];
  const label = (i: number) =>
    i === 0 ? `≤ ${names[i]}` : i === names.length - 1 ? `≥ ${names[i]}` : (names[i] ?? '');
  return [
    {
      id: 'unaided-against-spectacles',
      name: t('outcome.figure.against'),
      finding: t('outcome.finding.against', { share: shareText(say, found.sameOrBetter) }),
      basis: basisOf(say, figures, found.n),
      notes: [],
      model: {
        kind: 'bars',
        groups: found.bins.map((bin, i) => ({ label: label(i), bars: [barOf(bin)] })),
        series: [t('outcome.series.eyes')],
        xLabel: t('outcome.axis.lines_against'),
        yLabel: t('outcome.axis.share'),
      },
      table: {
        head: [t('outcome.axis.lines_against'), ...shareHead(say)],
        rows: found.bins.map((bin, i) => [label(i), ...shareCells(say, bin)]),
      },
    },
  ];
}

function lines(say: Say, figures: Figures, reference: number): Figure[] {
  const found = figures.linesChanged;
  if (found === null) return [];
  const { t, format } = say;
  const label = (count: number) =>
    t(`outcome.lines.${count < 0 ? 'lost' : count > 0 ? 'gained' : 'same'}_${Math.abs(count)}`);
  return [
    {
      id: 'lines-changed',
      name: t('outcome.figure.lines'),
      finding: t('outcome.finding.lines', { share: shareText(say, found.lostOne) }),
      basis: basisOf(say, figures, found.n),
      notes: [t('outcome.reference.lost', { share: format.percent(reference) })],
      model: {
        kind: 'bars',
        groups: found.rows.map((row) => ({ label: label(row.lines), bars: [barOf(row)] })),
        series: [t('outcome.series.eyes')],
        xLabel: t('outcome.axis.lines'),
        yLabel: t('outcome.axis.share'),
      },
      table: {
        head: [t('outcome.axis.lines'), ...shareHead(say)],
        rows: found.rows.map((row) => [label(row.lines), ...shareCells(say, row)]),
      },
    },
  ];
}
