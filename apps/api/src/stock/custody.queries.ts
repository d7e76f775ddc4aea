import type { LensDetail } from '@lensferry/contracts';
import { historyOf } from '../platform/history.queries.js';
import type { Work } from '../platform/work.js';
import { namesOf } from '../people/people.queries.js';
import { loadLens } from './move-lens.js';

type Station = LensDetail['custody'][number];
const text = (value: unknown): string | null => (typeof value === 'string' ? value : null);

/** Where a unit has been, from the desk that opened its parcel on: each step that the record holds of it. */
export async function custodyOf(work: Work, lensId: string): Promise<Station[]> {
  const stations = (await historyOf(work, { lensId }))
    .filter(({ action }) => action.startsWith('lens.'))
    .map(({ at, actorName, actorKind, action, facts, why }): Station => ({
      at,
      actorName,
      actorKind,
      event: action.slice('lens.'.length),
      from: text(facts['before']),
      to: text(facts['after']) ?? '',
      place: text(facts['location']),
      why,
    }));
  return stations[0]?.event === 'receive' ? stations : [await receiptOf(work, lensId), ...stations];
}

/** Of a unit that was taken in before receipts were put on record: who opened its parcel, and when. */
async function receiptOf(work: Work, lensId: string): Promise<Station> {
  const lens = await loadLens(work, lensId);
  const names = await namesOf(work, [lens.receivedBy]);
  return {
    at: lens.receivedAt.toISOString(),
    actorName: names.get(lens.receivedBy) ?? '',
    actorKind: 'inventory',
    event: 'receive',
    from: null,
    to: lens.quarantineWhy === null ? 'in_stock' : 'quarantined',
    place: null,
    why: lens.quarantineWhy,
  };
}
