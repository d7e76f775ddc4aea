import { addWorkingDays, nextWorkingDay } from '@lensferry/calculation';
import { makers } from '../demo/network.js';
import { assumptions } from './assumptions.js';
import type { Calendars } from './calendar.js';
import type { Chance } from './chance.js';

/** What a maker will do with one order, decided by chance when it is sent. */
export interface Fate {
  readonly kind: 'made' | 'declined' | 'forgotten';
  readonly acknowledgedOn: string;
  readonly promisedOn: string;
  readonly shippedOn: string;
  /** The clinic's working day on which the parcel is opened. */
  readonly arrivesOn: string;
  /** The day on which the maker says that it will be late; null when it says nothing. */
  readonly warnsOn: string | null;
  readonly damaged: boolean;
}

/** Decides the fate of an order that was sent on a day with a quoted time. */
export function fateOf(
  chance: Chance,
  order: { makerCode: string; quotedDays: number; sentOn: string },
  calendars: Calendars,
): Fate {
  const pace = makers.find(({ code }) => code === order.makerCode)?.pace ?? { factor: 1, spread: 0.1 };
  const { maker, clinic } = calendars;
  const usual = order.quotedDays * pace.factor * Math.exp(pace.spread * chance.normal());
  const trouble = chance.happens(assumptions.troubled) ? chance.whole(...assumptions.troubleDays) : 0;
  const lead = Math.max(2 + assumptions.transitDays, Math.round(usual) + trouble);
  const luck = chance.unit();
  const promisedOn = addWorkingDays(order.sentOn, Math.max(3, order.quotedDays), maker);
  const late = addWorkingDays(order.sentOn, lead, maker) > promisedOn;
  return {
    kind:
      luck < assumptions.declined
        ? 'declined'
        : luck < assumptions.declined + assumptions.forgotten
          ? 'forgotten'
          : 'made',
    acknowledgedOn: addWorkingDays(order.sentOn, 1, maker),
    promisedOn,
    shippedOn: addWorkingDays(order.sentOn, lead - assumptions.transitDays, maker),
    arrivesOn: nextWorkingDay(addWorkingDays(order.sentOn, lead, maker), clinic),
    warnsOn: chance.happens(assumptions.warnsWhenLate) && late ? addWorkingDays(promisedOn, -3, maker) : null,
    damaged: chance.happens(assumptions.damagedPack),
  };
}
