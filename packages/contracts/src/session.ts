import { roles } from '@lensferry/domain';
import { z } from 'zod';
import { Id, Instant, pageOf } from './common.js';

export const SignIn = z
  .strictObject({
    email: z.email().max(200),
    password: z.string().min(1).max(200),
    /** Six digits of the authenticator or a recovery code, where the account asks for one. */
    code: z.string().trim().min(6).max(24).optional(),
  })
  .meta({ id: 'SignIn' });
export type SignIn = z.infer<typeof SignIn>;

export const ClinicSummary = z
  .object({ id: Id, code: z.string(), name: z.string(), timeZone: z.string() })
  .meta({ id: 'ClinicSummary' });
export type ClinicSummary = z.infer<typeof ClinicSummary>;

/** Who is signed in, in which role and clinics, and until when. */
export const CurrentSession = z
  .object({
    person: z.object({ id: Id, name: z.string(), email: z.string(), role: z.enum(roles) }),
    clinics: z.array(ClinicSummary),
    expiresAt: Instant,
    /** How long it lasts without being used. */
    idleMinutes: z.int(),
    /** `needed`: nothing but setting it up is open to this session. */
    secondFactor: z.enum(['off', 'on', 'needed']),
    now: Instant,
    demo: z.boolean(),
  })
  .meta({ id: 'CurrentSession' });
export type CurrentSession = z.infer<typeof CurrentSession>;

export const PersonSummary = z
  .object({
    id: Id,
    name: z.string(),
    email: z.string(),
    role: z.enum(roles),
    clinics: z.array(ClinicSummary),
    active: z.boolean(),
    secondFactor: z.boolean(),
  })
  .meta({ id: 'PersonSummary' });
export type PersonSummary = z.infer<typeof PersonSummary>;
export const PersonPage = pageOf(PersonSummary, 'PersonPage');
