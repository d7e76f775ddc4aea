import { v7 as uuid } from 'uuid';
import { fromDate, toDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';

/** What there are pooled estimates of. */
export type PoolKind = 'vault' | 'results' | 'refraction' | 'lead_time';

/** One clinic's part of one estimate: sums, how many eyes are in them and whose. */
export interface PoolPart {
  readonly kind: PoolKind;
  readonly of: string;
  readonly eyes: number;
  readonly subjects: readonly string[];
  readonly sums: readonly number[];
}

/** What the other clinics come to together. */
export interface PooledSums {
  readonly of: string;
  readonly clinics: number;
  readonly eyes: number;
  /** The first of the month that the oldest and the newest part are as of. */
  readonly oldest: string;
  readonly newest: string;
  readonly sums: readonly number[];
}

/** No part and no change of a part is of fewer than so many patients. */
export const LEAST_SUBJECTS = 5;

/**
 * Writes a clinic's parts as of a day. A part stays as it is when it is of that day already, or when fewer than five
 * patients came to it or left it: a reader who kept the last sums could otherwise take the few out by subtraction.
 * @returns how many parts were written.
 */
export async function keepPoolParts(
  { tx }: Work,
  clinicId: string,
  takenOn: string,
  parts: readonly PoolPart[],
): Promise<number> {
  const standing = await tx.poolPart.findMany({ where: { clinicId } });
  let written = 0;
  for (const { kind, of, eyes, subjects, sums } of parts) {
    if (subjects.length < LEAST_SUBJECTS) continue;
    const before = standing.filter((part) => part.kind === kind && subjectOf(part.of) === subjectOf(of));
    if (!before.every((part) => mayRenew(part, takenOn, subjects))) continue;
    const values = {
      takenOn: toDate(takenOn),
      eyes,
      subjects: [...subjects],
      sums: [...sums],
      withdrawnOn: null,
    };
    await tx.poolPart.upsert({
      where: { clinicId_kind_of: { clinicId, kind, of } },
      create: { clinicId, id: uuid(), kind, of, ...values },
      update: values,
    });
    written += 1;
  }
  return written;
}

/**
 * Takes the clinic's parts out of every answer whose eyes have become fewer than five, or none at all. The rows stay,
 * so that a part that comes back is held against whom it was of.
 * @returns how many parts were withdrawn.
 */
export async function withdrawSmallParts(
  { tx, now }: Work,
  clinicId: string,
  parts: readonly PoolPart[],
): Promise<number> {
  const large = new Set(
    parts
      .filter(({ subjects }) => subjects.length >= LEAST_SUBJECTS)
      .map(({ kind, of }) => `${kind} ${subjectOf(of)}`),
  );
  const standing = await tx.poolPart.findMany({ where: { clinicId, withdrawnOn: null } });
  const small = standing.filter(({ kind, of }) => !large.has(`${kind} ${subjectOf(of)}`));
  const { count } = await tx.poolPart.updateMany({
    where: { clinicId, id: { in: small.map(({ id }) => id) } },
    data: { withdrawnOn: toDate(now.toISOString().slice(0, 10)) },
  });
  return count;
}

/** `design|inputs`: the same eyes on other inputs are a near question too. */
const subjectOf = (of: string): string => of.split('|')[0] as string;

function mayRenew(
  before: { takenOn: Date; subjects: string[] },
  takenOn: string,
  subjects: readonly string[],
): boolean {
  if (fromDate(before.takenOn) >= takenOn) return false;
  const [was, is] = [new Set(before.subjects), new Set(subjects)];
  const came = [...is].filter((id) => !was.has(id)).length;
  const left = [...was].filter((id) => !is.has(id)).length;
  return (came === 0 || came >= LEAST_SUBJECTS) && (left === 0 || left >= LEAST_SUBJECTS) && came + left > 0;
}

/** What the clinics that the person may not see come to together; nothing where they are too few or one outweighs. */
export async function readPool({ tx }: Work, kind: PoolKind): Promise<PooledSums[]> {
  const rows = await tx.$queryRaw<
    { part: string; clinics: number; eyes: number; oldest: Date; newest: Date; sums: number[] }[]
  >`select * from pooled_sums(${kind})`;
  return rows.map(({ part, oldest, newest, ...row }) => ({
    ...row,
    of: part,
    oldest: fromDate(oldest),
    newest: fromDate(newest),
  }));
}
