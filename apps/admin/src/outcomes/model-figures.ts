import type { ModelCheck } from '@lensferry/contracts';
import type { Figure } from './figure-model';
import type { Say } from './say';

/** A proposed model of a design, with what is known of it. */
export interface ModelOfDesign {
  readonly code: string;
  readonly name: string;
  readonly check: ModelCheck;
}

/** What a proposed model changes: an average eye's vault at each length, before and after, and how far each can be believed. */
export function modelFigures(say: Say, { code, name, check }: ModelOfDesign): Figure[] {
  const { t, format } = say;
  if (check.lengths.length === 0) return [];
  const text = ({ vaultUm, lowUm, highUm }: ModelCheck['lengths'][number]['before']): string =>
    t('model.range', {
      vault: format.whole(vaultUm),
      low: format.whole(lowUm),
      high: format.whole(highUm),
    });
  const range = ({ vaultUm, lowUm, highUm }: ModelCheck['lengths'][number]['before']) => ({
    value: vaultUm,
    low: lowUm,
    high: highUm,
  });
  const held = (share: ModelCheck['after']['coverage'][number] | undefined): string =>
    share ? `${share.count} / ${share.n}` : '–';
  return [
    {
      id: `model-${code.toLowerCase()}`,
      name: t('model.figure', { design: name }),
      finding: t('model.change', {
        before: format.um(check.before.errorUm),
        after: format.um(check.after.errorUm),
      }),
      basis: t('model.basis', { smart_count: check.eyes, day: format.date.withYear(check.upTo) }),
      notes: [t('model.legend'), t(`model.how.${check.how}`)],
      model: {
        kind: 'ranges',
        groups: check.lengths.map(({ lengthMm, before, after }) => ({
          label: format.plain(lengthMm),
          ranges: [range(before), range(after)],
        })),
        series: [t('model.before'), t('model.after')],
        xLabel: t('model.axis.length'),
        yLabel: t('model.axis.vault'),
      },
      table: {
        head: [t('model.length'), t('model.before'), t('model.after')],
        rows: [
          ...check.lengths.map(({ lengthMm, before, after }) => [
            format.mm(lengthMm),
            text(before),
            text(after),
          ]),
          ...check.after.coverage.map((share, i) => [
            t('model.held', { level: format.percent(share.level) }),
            held(check.before.coverage[i]),
            held(share),
          ]),
        ],
      },
    },
  ];
}
