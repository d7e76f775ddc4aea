import type { Telling } from '@lensferry/contracts';
import { Prisma } from './prisma-client/client.js';
import type { Work } from './work.js';

/** How telling a maker something stands, as it is kept beside what it is told of; `onItsWay` while the dispatch has it. */
export type KeptTelling = Prisma.InputJsonObject | typeof Prisma.DbNull;

/** Nothing is being told, or it is on its way. */
export const onItsWay = Prisma.DbNull;

/** How telling stands when it begins: a maker that takes no messages has to be told by somebody. */
export const tellingBegins = ({ now }: Work, { channel }: { channel: string }): KeptTelling =>
  channel === 'by_hand' ? kept({ state: 'by_hand', at: now.toISOString(), why: null, by: null }) : onItsWay;

/** The dispatch reached the maker, or finally did not. */
export const tellingSettled = (
  { now }: Work,
  { sent, outcome }: { sent: boolean; outcome: string },
): KeptTelling =>
  kept({ state: sent ? 'told' : 'failed', at: now.toISOString(), why: sent ? null : outcome, by: null });

/** A person says that the maker has been told, and how. */
export const toldByPerson = ({ now, actor }: Work, how: string): KeptTelling =>
  kept({ state: 'told', at: now.toISOString(), why: how, by: actor.name });

/** How telling the maker stands; null while it is on its way, and where nothing is told. */
export const tellingOf = (row: { telling: unknown }): Telling | null => row.telling as Telling | null;

/** Whether somebody has to see to it that the maker is told. */
export function isUntold(row: { telling: unknown }): boolean {
  const telling = tellingOf(row);
  return telling !== null && telling.state !== 'told';
}

const kept = (telling: Telling): Prisma.InputJsonObject => ({ ...telling });
