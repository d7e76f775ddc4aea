import { createHash } from 'node:crypto';
import { plusDays } from '../platform/plain-date.js';
import type { OperatedEye } from './operated-eyes.queries.js';

/** Groups with fewer eyes than this are not named where clinics are pooled. */
export const LEAST_CELL = 5;
/** Patients' dates are moved by up to this many days either way, each patient's all by the same. */
export const MOST_SHIFT_DAYS = 182;

export const digest = (text: string): Buffer => createHash('sha256').update(text).digest();

const shiftOf = (patientId: string): number =>
  (digest(`date:${patientId}`).readUInt32BE(0) % (2 * MOST_SHIFT_DAYS + 1)) - MOST_SHIFT_DAYS;

/** A day of a patient as it leaves the house: moved by this patient's own days. */
export const movedDay = (patientId: string, day: string): string => plusDays(day, shiftOf(patientId));

const hideable = ['clinic', 'surgeon', 'maker', 'design'] as const;
export type Hideable = (typeof hideable)[number];
/** Names of groups that are too small to be shown, by what they are groups of. */
export type Hidden = ReadonlyMap<string, ReadonlySet<string>>;

/** Where more than one clinic is in a table, the names of clinics, surgeons and others with too few eyes. */
export function smallGroups(eyes: readonly OperatedEye[]): Hidden {
  if (new Set(eyes.map(({ clinic }) => clinic.id)).size < 2) return new Map();
  return new Map(
    hideable.map((column) => {
      const counts = new Map<string, number>();
      for (const eye of eyes) counts.set(eye[column].name, (counts.get(eye[column].name) ?? 0) + 1);
      return [column, new Set([...counts].filter(([, n]) => n < LEAST_CELL).map(([name]) => name))];
    }),
  );
}

/** The name of an eye's clinic, surgeon, maker or design; null where its group is too small to be named. */
export function shownName(eye: OperatedEye, column: Hideable, hidden: Hidden): string | null {
  const { name } = eye[column];
  return hidden.get(column)?.has(name) === true ? null : name;
}
