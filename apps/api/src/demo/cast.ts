import type { Role } from '@lensferry/domain';
import type { SetClock } from '../platform/clock.js';
import type { Database } from '../platform/database.js';
import type { Actor, Work } from '../platform/work.js';
import type { ClinicCode } from './network.js';

/** A clinic of the demo with the people who work there. */
export interface Clinic {
  readonly id: string;
  readonly code: ClinicCode;
  readonly staff: Readonly<Record<Role, Actor>>;
}

/** A maker of the demo as it acts. */
export interface Maker {
  readonly id: string;
  readonly code: string;
  readonly name: string;
}

/** Everybody in the demo, the clock they live by, and the password that surgeons sign with. */
export interface Cast {
  readonly database: Database;
  readonly clock: SetClock;
  readonly clinics: readonly Clinic[];
  readonly makers: readonly Maker[];
  readonly password: string;
}

/** Lets somebody of a clinic run a use case, exactly as the API does. */
export function as<T>(
  { database }: Cast,
  clinic: Clinic,
  role: Role,
  useCase: (work: Work) => Promise<T>,
): Promise<T> {
  return database.work(clinic.staff[role], useCase);
}

export function asWorker<T>(
  { database }: Cast,
  clinic: Clinic,
  useCase: (work: Work) => Promise<T>,
): Promise<T> {
  return database.work({ kind: 'worker', personId: null, name: 'Dispatch', clinicIds: [clinic.id] }, useCase);
}

export function asMaker<T>(
  { database }: Cast,
  clinic: Clinic,
  maker: Maker,
  useCase: (work: Work) => Promise<T>,
): Promise<T> {
  return database.work({ kind: 'maker', personId: null, name: maker.name, clinicIds: [clinic.id] }, useCase);
}
