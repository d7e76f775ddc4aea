import type { LedgerQuery } from '@lensferry/contracts';
import { centsOf, ledgerKindOf, type LedgerCents, type LedgerKind } from '@lensferry/domain';
import { dayIn, daysBetween } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';

/** An entry with its money in whole hundredths, so that sums are exact. */
export interface LedgerLine {
  readonly id: string;
  readonly kind: LedgerKind;
  readonly on: string;
  readonly number: string;
  readonly maker: { readonly id: string; readonly name: string };
  readonly clinic: { readonly id: string; readonly name: string };
  readonly currency: string;
  readonly cents: LedgerCents;
  readonly ageDays: number | null;
  readonly note: string | null;
}

/** DECIMAL(12, 2) in hundredths: 12 digits are exact in a number. */
const toCents = (amount: { toFixed(places: number): string }): number =>
  Math.round(Number(amount.toFixed(2)) * 100);

/**
 * Every order that was shipped (or arrived without a notice) and every return, each once, newest first. An order is
 * owed from the day it is shipped (makers bill by then: common practice, no source), and stays owed when its lens is
 * rejected until its return is credited. A return has the day it was opened while it is open, then the day it ended.
 */
export async function readLedger(work: Work, query: LedgerQuery): Promise<LedgerLine[]> {
  const { tx, now } = work;
  const within = {
    ...(query.makerId !== undefined && { makerId: query.makerId }),
    ...(query.clinicId !== undefined && { clinicId: query.clinicId }),
  };
  const makers = new Map((await tx.maker.findMany()).map(({ id, name }) => [id, { id, name }]));
  const clinics = new Map((await tx.clinic.findMany()).map((clinic) => [clinic.id, clinic]));
  const orders = await tx.lensOrder.findMany({
    where: { ...within, OR: [{ shippedAt: { not: null } }, { arrivedAt: { not: null } }] },
    select: {
      ...{ id: true, number: true, makerId: true, clinicId: true, price: true, currency: true },
      ...{ shippedAt: true, arrivedAt: true, replacesLensId: true },
    },
  });
  const returns = await tx.lensReturn.findMany({ where: within });
  const line = (
    row: { id: string; number: string; makerId: string; clinicId: string; currency: string },
    at: Date,
    rest: Pick<LedgerLine, 'kind' | 'cents' | 'note'>,
  ): LedgerLine => {
    const { id, name, timeZone } = clinics.get(row.clinicId) ?? {
      id: row.clinicId,
      name: '',
      timeZone: 'UTC',
    };
    const on = dayIn(timeZone, at);
    return {
      ...{ id: row.id, number: row.number, currency: row.currency, on },
      maker: makers.get(row.makerId) ?? { id: row.makerId, name: '' },
      clinic: { id, name },
      ageDays: rest.kind === 'open' ? Math.max(0, daysBetween(on, dayIn(timeZone, now))) : null,
      ...rest,
    };
  };
  const lines = [
    ...orders.map((order) => {
      const kind = order.replacesLensId === null ? 'order' : 'exchange';
      const cents = centsOf(kind, toCents(order.price));
      return line(order, order.shippedAt ?? order.arrivedAt ?? now, { kind, cents, note: null });
    }),
    ...returns.map((row) => {
      const kind = ledgerKindOf(row.state);
      const got = row.creditGot === null ? 0 : toCents(row.creditGot);
      const cents = centsOf(kind, toCents(row.creditExpected), got);
      return line(row, kind === 'open' ? row.openedAt : row.stateSince, { kind, cents, note: row.note });
    }),
  ];
  return lines
    .filter(({ on }) => (query.from ?? on) <= on && on <= (query.to ?? on))
    .sort((a, b) => b.on.localeCompare(a.on) || b.number.localeCompare(a.number) || b.id.localeCompare(a.id));
}
