import type { FunnelPoint, MakerScorecards } from '@lensferry/contracts';
import type { Figure } from './figure-model';
import { shareText, type Say } from './say';

const measures = ['promiseKept', 'labelMismatch', 'exchanged'] as const;

/** One funnel for each thing that makers are held to; none where there is nothing to count yet. */
export function makerFigures(say: Say, scores: MakerScorecards): Figure[] {
  return measures.flatMap((what) => funnelOf(say, scores, what));
}

function funnelOf(
  say: Say,
  { items, overall, sentFrom, sentTo }: MakerScorecards,
  what: (typeof measures)[number],
): Figure[] {
  const { t, format } = say;
  const all = overall[what];
  if (all === null || sentFrom === null || sentTo === null) return [];
  const outside = items.filter(({ [what]: of }) => of.standing.startsWith('outside'));
  const together = t(`outcome.finding.maker.${what}`, { share: shareText(say, all) });
  const named = outside.map(({ name, [what]: of }) => `${name} (${shareOf(say, of)})`).join(', ');
  return [
    {
      id: `makers-${what.toLowerCase()}`,
      name: t(`outcome.maker.${what}`),
      finding: `${together}; ${
        outside.length === 0
          ? t('outcome.finding.funnel_none')
          : t('outcome.finding.funnel', { makers: named })
      }`,
      basis: t('outcome.maker_basis', {
        n: format.whole(all.n),
        from: format.date.withYear(sentFrom),
        to: format.date.withYear(sentTo),
      }),
      notes: [t('outcome.note.funnel')],
      model: {
        kind: 'funnel',
        rows: items.map(({ name, [what]: of }) => ({
          label: name,
          share: of.share?.share ?? null,
          inner: of.limits95,
          outer: of.limits998,
        })),
        overall: all.share,
        xLabel: t(`outcome.axis.${what}`),
      },
      table: {
        head: [
          t('outcome.head.maker'),
          t('outcome.head.of_how_many'),
          t('outcome.head.share'),
          t('outcome.head.limits'),
          t('outcome.head.chance'),
          t('outcome.head.standing'),
        ],
        rows: items.map(({ name, [what]: of }) => [
          name,
          of.share === null ? '0' : `${format.whole(of.share.count)} / ${format.whole(of.share.n)}`,
          shareOf(say, of),
          of.share === null ? '' : `${format.percent(of.share.low)} – ${format.percent(of.share.high)}`,
          of.limits95 === null ? '' : `${format.percent(of.limits95[0])} – ${format.percent(of.limits95[1])}`,
          t(`outcome.standing.${of.standing}`),
        ]),
      },
    },
  ];
}

const shareOf = ({ format }: Say, { share }: FunnelPoint): string =>
  share === null ? '' : format.percent(share.share);
