import type { LensDetail } from '@lensferry/contracts';
import { historyOf } from '../platform/history.queries.js';
import type { Work } from '../platform/work.js';
import { namesOf } from '../people/people.queries.js';
import { loadLens } from './move-lens.js';

type Station = LensDetail['custody'][number];
const text = (value: unknown): string | null => (typeof value === 'string' ? value : null);

/** Where a unit has been: from the desk that opened its parcel, by each step that the record holds of it. */
export async function custodyOf(work: Work, lensId: string): Promise<Station[]> {
  const lens = await loadLens(work, lensId);
  const names = await namesOf(work, [lens.receivedBy]);
  const received = await work.tx.auditEntry.findFirst({
    where: {
      orderId: lens.orderId,
      action: { in: ['order.accept', 'order.quarantine'] },
      at: lens.receivedAt,
    },
  });
  const stations = (await historyOf(work, { lensId }))
    .filter(({ action }) => action.startsWith('lens.'))
    .map(({ at, actorName, actorKind, action, facts, why }): Station => ({
      at,
      actorName,
      actorKind,
      event: action.slice('lens.'.length),
      from: text(facts['before']),
      to: text(facts['after']) ?? lens.state,
      place: text(facts['location']),
      why,
    }));
  return [
    {
      at: lens.receivedAt.toISOString(),
      actorName: names.get(lens.receivedBy) ?? '',
      actorKind: received?.actorKind ?? 'inventory',
      event: 'receive',
      from: null,
      to: stations[0]?.from ?? lens.state,
      place: stations.length === 0 ? lens.location : null,
      why: received?.why ?? null,
    },
    ...stations,
  ];
}
