import type { OutcomeReport } from '@lensferry/contracts';
import type { Figure } from './figure-model';
import { pairs } from './refraction-figures';
import { barOf, basisOf, binText, estimateText, shareCells, shareHead, type Say } from './say';

type Figures = OutcomeReport['figures'];

/** Astigmatism as vectors. */
export function astigmatismFigures(say: Say, { figures }: OutcomeReport): Figure[] {
  return [
    ...intended(say, figures),
    ...angle(say, figures),
    ...doubleAngle(say, figures, 'before'),
    ...doubleAngle(say, figures, 'after'),
  ];
}

const two = ({ format }: Say, value: number): string => format.plain(Math.round(value * 100) / 100);

function intended(say: Say, figures: Figures): Figure[] {
  const found = figures.intendedInduced;
  if (found === null) return [];
  const { t } = say;
  const index = figures.correctionIndex;
  return [
    {
      id: 'intended-induced',
      name: t('outcome.figure.intended'),
      finding:
        index === null
          ? t('outcome.finding.too_few_of', { smart_count: found.n })
          : t('outcome.finding.intended', { index: estimateText(say, index) }),
      basis: basisOf(say, figures, found.n),
      notes: [t('outcome.note.correction')],
      model: {
        kind: 'points',
        points: found.points.map(({ x, y }) => ({ x, y })),
        xLabel: t('outcome.axis.intended'),
        yLabel: t('outcome.axis.induced'),
        diagonal: true,
        line: found.line,
      },
      table: pairs(found.points, t('outcome.axis.intended'), t('outcome.axis.induced'), (value) =>
        two(say, value),
      ),
    },
  ];
}

function angle(say: Say, figures: Figures): Figure[] {
  const found = figures.angleOfError;
  if (found === null) return [];
  const { t, format } = say;
  return [
    {
      id: 'angle-of-error',
      name: t('outcome.figure.angle'),
      finding: t('outcome.finding.angle', {
        absolute: format.degrees(found.absoluteDeg.mean),
        arithmetic: format.turn(found.arithmeticDeg.mean),
      }),
      basis: basisOf(say, figures, found.n),
      notes: [t('outcome.note.angle')],
      model: {
        kind: 'bars',
        groups: found.bins.map((bin) => ({ label: binText(say, bin), bars: [barOf(bin)] })),
        series: [t('outcome.series.eyes')],
        xLabel: t('outcome.axis.angle'),
        yLabel: t('outcome.axis.share'),
      },
      table: {
        head: [t('outcome.axis.angle'), ...shareHead(say)],
        rows: found.bins.map((bin) => [binText(say, bin), ...shareCells(say, bin)]),
      },
    },
  ];
}

function doubleAngle(say: Say, figures: Figures, when: 'before' | 'after'): Figure[] {
  const found = when === 'before' ? figures.astigmatismBefore : figures.astigmatismAfter;
  if (found.n === 0) return [];
  const { t, format } = say;
  const { summary } = found;
  return [
    {
      id: `astigmatism-${when}`,
      name: t(`outcome.figure.astigmatism_${when}`),
      finding:
        summary === null
          ? t('outcome.finding.too_few_of', { smart_count: found.n })
          : t('outcome.finding.centroid', {
              size: two(say, summary.centroid.magnitudeD),
              axis: format.degrees(summary.centroid.axisDeg),
              mean: two(say, summary.meanMagnitudeD),
              sd: two(say, summary.sdMagnitudeD),
            }),
      basis: basisOf(say, figures, found.n),
      notes: [t('outcome.note.double_angle')],
      model: {
        kind: 'double-angle',
        points: found.points.map(({ x, y }) => ({ x, y })),
        centre: summary === null ? null : { x: summary.centroidX, y: summary.centroidY },
        spread: summary?.spread ?? null,
        ofCentroid: summary?.ofCentroid ?? null,
        ring: '# D',
      },
      table: pairs(found.points, 'x (D)', 'y (D)', (value) => two(say, value)),
    },
  ];
}
