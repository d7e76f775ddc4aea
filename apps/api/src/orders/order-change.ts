import type { ChangeDocument, PendingChange } from '@lensferry/contracts';
import { specificationDifferences, type Specification } from '@lensferry/domain';
import { fromDateOrNull } from '../platform/plain-date.js';
import type { OrderRow } from './orders.store.js';

/** What another plan makes of an order that its maker has. */
export interface Amended {
  readonly planId: string;
  readonly designVersionId: string;
  readonly specification: Specification;
  readonly specificationHash: string;
  readonly quotedDays: number;
  readonly price: string;
  readonly currency: string;
}

/** The signature on an amended specification; it takes the old one's place when the maker agrees. */
export interface ChangeSignature {
  readonly signerId: string;
  readonly signerName: string;
  readonly reasons: Record<string, string>;
  readonly signedAt: string;
}

/** A change as it is kept with its order until it is answered, withdrawn or overtaken. */
export interface OrderChange {
  readonly number: number;
  readonly why: string;
  /** Null when only the need-by date changes. */
  readonly amended: Amended | null;
  readonly signature: ChangeSignature | null;
  /** As the maker gets it, fixed when it is asked so that every attempt sends the same bytes. */
  readonly document: ChangeDocument | null;
}

/** The change that is proposed or asked for; null when there is none. */
export function changeOf(order: Pick<OrderRow, 'change'>): OrderChange | null {
  return order.change as unknown as OrderChange | null;
}

/** The need-by date that the maker was told last and has not refused. */
export function toldNeedBy(order: Pick<OrderRow, 'document' | 'agreedChange'>): string | null {
  const told = (order.agreedChange ?? order.document) as { needBy?: string | null } | null;
  return told?.needBy ?? null;
}

/** Whether the maker counts on another need-by date than the clinic. */
export function needByUntold(order: Pick<OrderRow, 'document' | 'agreedChange' | 'needBy'>): boolean {
  return order.document !== null && toldNeedBy(order) !== fromDateOrNull(order.needBy);
}

/** A change as the screens show it. */
export function describeChange(
  order: Pick<OrderRow, 'change' | 'needBy' | 'specification'>,
): PendingChange | null {
  const change = changeOf(order);
  if (change === null) return null;
  const { amended, signature, document } = change;
  return {
    number: change.number,
    kind: amended === null ? 'need-by' : 'specification',
    askedAt: document?.askedAt ?? null,
    why: change.why,
    needBy: document === null ? fromDateOrNull(order.needBy) : document.needBy,
    specification: amended === null ? null : { ...amended.specification },
    specificationHash: amended?.specificationHash ?? null,
    differences:
      amended === null
        ? []
        : specificationDifferences(order.specification as unknown as Specification, amended.specification),
    signedBy: signature?.signerName ?? null,
    signedAt: signature?.signedAt ?? null,
  };
}
