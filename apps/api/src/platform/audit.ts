import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';

/** One thing that was done, before it gets its place in the clinic's chain. */
export interface Entry {
  readonly clinicId: string;
  /** `order.sign`, `lens.implant`, …: a thing and a verb. */
  readonly action: string;
  readonly caseId?: string | null;
  readonly orderId?: string | null;
  readonly lensId?: string | null;
  /** What was before and after, in plain values; never an identity. */
  readonly facts?: Record<string, unknown>;
  readonly why?: string | null;
}

/** The hash before the first entry. */
export const genesis = '0'.repeat(64);

/** SHA-256, lower-case hex, over the RFC 8785 canonical JSON of a value. */
export function canonicalHash(value: unknown): string {
  return createHash('sha256')
    .update(canonicalize(value) ?? 'null')
    .digest('hex');
}

/** What an entry's hash covers: everything that is on record of it, and the hash before it. */
export function entryHash(row: {
  clinicId: string;
  seq: bigint;
  at: Date;
  actorId: string | null;
  actorName: string;
  actorKind: string;
  action: string;
  caseId: string | null;
  orderId: string | null;
  lensId: string | null;
  facts: unknown;
  why: string | null;
  prev: string;
}): string {
  return canonicalHash({ ...row, seq: Number(row.seq), at: row.at.toISOString() });
}
