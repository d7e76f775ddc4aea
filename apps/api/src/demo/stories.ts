import type { ClinicCode } from './network.js';

/** How far a demo case has come, and what has gone wrong with it. */
export const endings = [
  'measuring',
  'stabilising',
  'to-plan',
  'draft',
  'changes-requested',
  'to-sign',
  'amended-after-signing',
  'to-place',
  'queued',
  'send-failed',
  'disputed',
  'sent',
  'acknowledged',
  'late',
  'at-risk',
  'shipped',
  'quarantined-mismatch',
  'quarantined-damaged',
  'rejected',
  'declined',
  'cancelled',
  'lens-here',
  'expiring',
  'visit-due',
  'followed-up',
  'vault-high',
  'vault-low',
  'exchange-to-plan',
  'exchange-on-order',
  'exchange-here',
  'return-requested',
  'return-closing',
  'return-overdue',
  'credit-missing',
  'exchanged',
  'rotated',
  'closed',
  'withdrawn',
] as const;
export type Ending = (typeof endings)[number];

export interface Story {
  readonly ending: Ending;
  readonly clinic: ClinicCode;
  readonly maker: string;
  /** Days ago that the (first) order was sent, or that the latest step was taken where there is none. */
  readonly daysAgo: number;
}

/** How many of each, and how long ago: about ninety cases, so that every state and every trouble can be seen. */
const plot: readonly (readonly [Ending, number, from: number, to: number])[] = [
  ['measuring', 4, 2, 20],
  ['stabilising', 5, 5, 60],
  ['to-plan', 4, 2, 12],
  ['draft', 2, 1, 3],
  ['changes-requested', 2, 1, 4],
  ['to-sign', 4, 0, 3],
  ['amended-after-signing', 1, 2, 2],
  ['to-place', 2, 1, 2],
  ['queued', 1, 0, 0],
  ['send-failed', 2, 1, 2],
  ['disputed', 1, 3, 3],
  ['sent', 2, 1, 3],
  ['acknowledged', 5, 8, 20],
  ['late', 3, 55, 62],
  ['at-risk', 3, 30, 36],
  ['shipped', 4, 28, 34],
  ['quarantined-mismatch', 1, 45, 45],
  ['quarantined-damaged', 1, 50, 50],
  ['rejected', 1, 60, 60],
  ['declined', 2, 12, 16],
  ['cancelled', 1, 9, 9],
  ['lens-here', 4, 50, 60],
  ['expiring', 1, 70, 70],
  ['visit-due', 3, 75, 90],
  ['followed-up', 8, 150, 330],
  ['vault-high', 2, 120, 150],
  ['vault-low', 1, 130, 130],
  ['exchange-to-plan', 1, 150, 150],
  ['exchange-on-order', 2, 170, 180],
  ['exchange-here', 1, 220, 220],
  ['return-requested', 1, 240, 240],
  ['return-closing', 1, 250, 250],
  ['return-overdue', 1, 300, 300],
  ['credit-missing', 1, 340, 340],
  ['exchanged', 2, 380, 420],
  ['rotated', 1, 200, 200],
  // Enough eyes with a year behind them that a report says something.
  ['closed', 14, 425, 720],
  ['withdrawn', 2, 20, 60],
];

const clinicsInTurn: readonly ClinicCode[] = ['EST', 'NOR', 'EST', 'HAR', 'NOR', 'EST'];
const makersInTurn = ['QUILLON', 'OSTREL', 'QUILLON', 'FENNICK', 'MERROW', 'OSTREL', 'QUILLON'];
/** A maker that is told by hand can't fail to be reached, and one that prints no spec can't be mismatched by scan. */
const makerFor: Partial<Record<Ending, string>> = {
  'send-failed': 'OSTREL',
  queued: 'QUILLON',
  disputed: 'OSTREL',
  sent: 'QUILLON',
  late: 'OSTREL',
  'at-risk': 'QUILLON',
  shipped: 'QUILLON',
  declined: 'OSTREL',
  'quarantined-mismatch': 'QUILLON',
  'return-closing': 'QUILLON',
  'return-requested': 'FENNICK',
};

/** The demo's cases as a table. */
export const stories: readonly Story[] = plot.flatMap(([ending, count, from, to], row) =>
  Array.from({ length: count }, (_, nth) => ({
    ending,
    clinic: clinicsInTurn[(row + nth) % clinicsInTurn.length] ?? 'EST',
    maker: makerFor[ending] ?? makersInTurn[(row * 3 + nth) % makersInTurn.length] ?? 'QUILLON',
    daysAgo: count === 1 ? from : Math.round(from + ((to - from) * nth) / (count - 1)),
  })),
);

/** Code names for patients: a plant and a number, so that nobody is named. */
export const plants = [
  'Bracken',
  'Tamarisk',
  'Juniper',
  'Sorrel',
  'Alder',
  'Bilberry',
  'Campion',
  'Dogwood',
  'Elder',
  'Fescue',
  'Gorse',
  'Hazel',
  'Ivy',
  'Larch',
  'Mallow',
  'Nettle',
  'Oxlip',
  'Privet',
  'Rowan',
  'Sedge',
  'Teasel',
  'Vetch',
  'Willow',
  'Yarrow',
] as const;
