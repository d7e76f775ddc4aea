import type { OutcomeReport } from '@lensferry/contracts';
import type { Figure } from './figure-model';
import { barOf, basisOf, binText, shareCells, shareHead, shareText, type Say } from './say';

type Figures = OutcomeReport['figures'];

/** Refraction: attempted against achieved, accuracy, stability and cylinder. */
export function refractionFigures(say: Say, { figures, references }: OutcomeReport): Figure[] {
  return [
    ...attempted(say, figures),
    ...accuracy(say, figures, references),
    ...stability(say, figures),
    ...cylinder(say, figures),
  ];
}

function attempted(say: Say, figures: Figures): Figure[] {
  const found = figures.attemptedAchieved;
  if (found === null) return [];
  const { t, format } = say;
  const two = (value: number) => format.plain(Math.round(value * 100) / 100);
  const { line } = found;
  return [
    {
      id: 'attempted-achieved',
      name: t('outcome.figure.attempted'),
      finding: t('outcome.finding.attempted', {
        under: shareText(say, found.under),
        over: shareText(say, found.over),
      }),
      basis: basisOf(say, figures, found.n),
      notes:
        line === null
          ? []
          : [
              t('outcome.line', {
                slope: two(line.slope),
                low: two(line.slopeLow),
                high: two(line.slopeHigh),
                intercept: two(line.intercept),
                r: two(line.rSquared),
              }),
            ],
      model: {
        kind: 'points',
        points: found.points.map(({ x, y }) => ({ x, y })),
        xLabel: t('outcome.axis.attempted'),
        yLabel: t('outcome.axis.achieved'),
        diagonal: true,
        line,
      },
      table: pairs(found.points, t('outcome.axis.attempted'), t('outcome.axis.achieved'), two),
    },
  ];
}

/** A row for every point. */
export function pairs(
  points: readonly { x: number; y: number }[],
  x: string,
  y: string,
  write: (value: number) => string,
) {
  return {
    head: ['#', x, y],
    rows: points.map((point, i) => [String(i + 1), write(point.x), write(point.y)]),
  };
}

function accuracy(say: Say, figures: Figures, references: OutcomeReport['references']): Figure[] {
  const found = figures.accuracy;
  if (found === null) return [];
  const { t, format } = say;
  const within = (limit: number) => found.within.find((share) => share.within === limit);
  const [half, one] = [within(0.5), within(1)];
  if (half === undefined || one === undefined) return [];
  return [
    {
      id: 'accuracy',
      name: t('outcome.figure.accuracy'),
      finding: t('outcome.finding.accuracy', { half: shareText(say, half), one: shareText(say, one) }),
      basis: basisOf(say, figures, found.n),
      notes: [
        t('outcome.reference.within', {
          half: format.percent(references.withinHalfD),
          one: format.percent(references.withinOneD),
        }),
      ],
      model: {
        kind: 'bars',
        groups: found.bins.map((bin) => ({ label: binText(say, bin), bars: [barOf(bin)] })),
        series: [t('outcome.series.eyes')],
        xLabel: t('outcome.axis.error'),
        yLabel: t('outcome.axis.share'),
      },
      table: {
        head: [t('outcome.axis.error'), ...shareHead(say)],
        rows: [
          ...found.bins.map((bin) => [binText(say, bin), ...shareCells(say, bin)]),
          ...found.within.map((share) => [`± ${format.plain(share.within)}`, ...shareCells(say, share)]),
        ],
      },
    },
  ];
}

function stability(say: Say, figures: Figures): Figure[] {
  const found = figures.stability;
  if (found === null || figures.eyes === 0) return [];
  const { t, format } = say;
  const name = (code: string) => visitName(say, code);
  const last = found.rows.at(-1);
  return [
    {
      id: 'stability',
      name: t('outcome.figure.stability'),
      finding:
        found.moved === null
          ? t('outcome.finding.stability_unknown', {
              mean: last === undefined ? '' : format.dioptres(last.meanD),
              visit: last === undefined ? '' : name(last.code),
            })
          : t('outcome.finding.stability', { share: shareText(say, found.moved) }),
      basis: basisOf(say, figures, figures.eyes),
      notes: [t('outcome.note.stability')],
      model: {
        kind: 'course',
        steps: found.rows.map(({ code, n, meanD, lowD, highD }) => ({
          label: name(code),
          n: `n ${format.whole(n)}`,
          mean: meanD,
          low: lowD,
          high: highD,
        })),
        xLabel: t('outcome.axis.visit'),
        yLabel: t('outcome.axis.equivalent'),
      },
      table: {
        head: [
          t('outcome.axis.visit'),
          'n',
          t('outcome.head.mean'),
          t('outcome.head.sd'),
          t('outcome.head.limits'),
        ],
        rows: found.rows.map(({ code, n, meanD, sdD, lowD, highD }) => [
          name(code),
          format.whole(n),
          format.dioptres(meanD),
          format.dioptres(sdD),
          lowD === null || highD === null ? '' : format.diopterRange(lowD, highD),
        ]),
      },
    },
  ];
}

/** `day-1`, `week-1`, `month-3`, `year-2` in words. */
export function visitName({ t }: Say, code: string): string {
  const [unit = 'before', count = ''] = code.split('-');
  return t(`outcome.visit.${unit}`, { count });
}

function cylinder(say: Say, figures: Figures): Figure[] {
  const found = figures.cylinder;
  if (found === null) return [];
  const { t } = say;
  const half = found.withinAfter.find(({ within }) => within === 0.5);
  const one = found.withinAfter.find(({ within }) => within === 1);
  if (half === undefined || one === undefined) return [];
  return [
    {
      id: 'cylinder',
      name: t('outcome.figure.cylinder'),
      finding: t('outcome.finding.cylinder', { half: shareText(say, half), one: shareText(say, one) }),
      basis: basisOf(say, figures, found.n),
      notes: [],
      model: {
        kind: 'bars',
        groups: found.after.map((bin, i) => {
          const before = found.before[i];
          return { label: binText(say, bin), bars: [barOf(bin), before ? barOf(before) : null] };
        }),
        series: [t('outcome.after'), t('outcome.before')],
        xLabel: t('outcome.axis.cylinder'),
        yLabel: t('outcome.axis.share'),
      },
      table: {
        head: [
          t('outcome.axis.cylinder'),
          ...shareHead(say),
          ...shareHead(say).map((head) => `${head} (${t('outcome.before')})`),
        ],
        rows: found.after.map((bin, i) => {
          const before = found.before[i];
          return [binText(say, bin), ...shareCells(say, bin), ...(before ? shareCells(say, before) : [])];
        }),
      },
    },
  ];
}
