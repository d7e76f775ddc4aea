import type { OutcomeReport } from '@lensferry/contracts';
import type { Figure } from './figure-model';
import { barOf, basisOf, shareCells, shareHead, shareText, type Say } from './say';

/** Vault behind the present lens, by the bands of the network. */
export function vaultReportFigures(say: Say, { figures, references }: OutcomeReport): Figure[] {
  const found = figures.vault;
  if (found === null) return [];
  const { t, format } = say;
  const { lowBelowUm, highAboveUm } = references.vaultBand;
  const bands = [
    { label: `${t('outcome.band.low')} < ${format.whole(lowBelowUm)}`, share: found.low },
    {
      label: `${t('outcome.band.intended')} ${format.whole(lowBelowUm)}–${format.whole(highAboveUm)}`,
      share: found.intended,
    },
    { label: `${t('outcome.band.high')} > ${format.whole(highAboveUm)}`, share: found.high },
  ];
  return [
    {
      id: 'vault',
      name: t('outcome.figure.vault'),
      finding: t('outcome.finding.vault', {
        share: shareText(say, found.intended),
        mean: format.um(found.summaryUm.mean),
        sd: format.um(found.summaryUm.sd),
      }),
      basis: basisOf(say, figures, found.n),
      notes: [t('outcome.note.vault')],
      model: {
        kind: 'bars',
        groups: bands.map(({ label, share }) => ({ label, bars: [barOf(share)] })),
        series: [t('outcome.series.eyes')],
        xLabel: t('outcome.axis.vault'),
        yLabel: t('outcome.axis.share'),
      },
      table: {
        head: [t('outcome.axis.vault'), ...shareHead(say)],
        rows: bands.map(({ label, share }) => [label, ...shareCells(say, share)]),
      },
    },
  ];
}
