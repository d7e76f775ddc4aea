import { z } from 'zod';
import { CaseSummary, VaultCheck } from './cases.js';
import { UnexpectedParcel } from './arrivals.js';
import { pageOf } from './common.js';
import { LensSummary, ReturnSummary } from './lenses.js';
import { OrderSummary } from './orders.js';
import { StockCount } from './stock-counts.js';
import { LensTransfer } from './transfers.js';

/** What matters now, for the role that asks. Each list is worst first and at most fifty long. */
export const Today = z
  .object({
    toSign: z.array(OrderSummary),
    toPlan: z.array(CaseSummary),
    toMeasure: z.array(CaseSummary),
    toSubmit: z.array(OrderSummary),
    toPlace: z.array(OrderSummary),
    sendFailed: z.array(OrderSummary),
    declined: z.array(OrderSummary),
    /** Makers were asked to cancel these and have not answered. */
    cancelling: z.array(OrderSummary),
    /** Makers were asked to change these and have not answered. */
    changing: z.array(OrderSummary),
    /** Makers that nobody and nothing has told yet: by hand, or because telling them failed. */
    toTell: z.array(OrderSummary),
    atRisk: z.array(OrderSummary),
    toReceive: z.array(OrderSummary),
    /** Parcels that no order waited for and that nobody has placed yet. */
    unexpected: z.array(UnexpectedParcel),
    /** Announced with a parcel that came, and not in it. */
    missingFromParcel: z.array(OrderSummary),
    quarantined: z.array(LensSummary),
    toSchedule: z.array(CaseSummary),
    inTheatre: z.array(CaseSummary),
    visitsDue: z.array(CaseSummary),
    poorVaults: z.array(z.object({ case: CaseSummary, check: VaultCheck })),
    exchanges: z.array(CaseSummary),
    /** A lens was taken out and nobody has written down whether that is to be reported. */
    toConsider: z.array(CaseSummary),
    /** Counts of a place that nobody has closed. */
    openCounts: z.array(StockCount),
    /** Units between clinics that one's own clinic has to move. */
    transfers: z.array(LensTransfer),
    returns: z.array(ReturnSummary),
    toReturn: z.array(LensSummary),
    expiring: z.array(LensSummary),
    counts: z.record(z.string(), z.int()),
  })
  .meta({ id: 'Today' });
export type Today = z.infer<typeof Today>;

/** Something that a search found, and where it is. */
export const SearchResult = z
  .object({
    kind: z.enum(['case', 'order', 'lens', 'return']),
    id: z.string(),
    caseId: z.string().nullable(),
    label: z.string(),
    detail: z.string(),
  })
  .meta({ id: 'SearchResult' });
export type SearchResult = z.infer<typeof SearchResult>;
export const SearchAnswer = z.object({ items: z.array(SearchResult) }).meta({ id: 'SearchAnswer' });

export const AuditRow = z
  .object({
    clinicId: z.string(),
    seq: z.int(),
    at: z.string(),
    actorName: z.string(),
    actorKind: z.string(),
    action: z.string(),
    caseId: z.string().nullable(),
    orderId: z.string().nullable(),
    facts: z.record(z.string(), z.unknown()),
    why: z.string().nullable(),
    hash: z.string(),
  })
  .meta({ id: 'AuditRow' });
export const AuditPage = pageOf(AuditRow, 'AuditPage');
