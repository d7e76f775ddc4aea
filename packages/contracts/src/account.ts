import { roles } from '@lensferry/domain';
import { z } from 'zod';
import { Id, Instant, Sentence, ShortText } from './common.js';

/** A new password: at least 12 characters; whether it is a common one is judged by the server. */
export const NewPassword = z.string().min(12, 'Take at least 12 characters.').max(200);
/** Six digits of an authenticator, or a recovery code such as `ABCD-EFGH-JKLM-NPQR`. */
export const SecondFactorCode = z.string().trim().min(6).max(24);

/** The password once more, before anything of the account is changed. */
export const ConfirmPassword = z
  .strictObject({ password: z.string().min(1).max(200) })
  .meta({ id: 'ConfirmPassword' });
export type ConfirmPassword = z.infer<typeof ConfirmPassword>;

export const ChangePassword = z
  .strictObject({ password: z.string().min(1).max(200), newPassword: NewPassword })
  .meta({ id: 'ChangePassword' });
export type ChangePassword = z.infer<typeof ChangePassword>;

/** What an authenticator needs: the secret in base32, the address it reads, and that address as a QR code. */
export const SecondFactorOffer = z
  .object({
    secret: z.string(),
    address: z.string(),
    /** Rows of `0` (light) and `1` (dark), without the quiet zone. */
    qrRows: z.array(z.string().regex(/^[01]+$/)),
  })
  .meta({ id: 'SecondFactorOffer' });
export type SecondFactorOffer = z.infer<typeof SecondFactorOffer>;

export const ConfirmSecondFactor = z
  .strictObject({ code: z.string().regex(/^\d{6}$/, 'Write the six digits that the authenticator shows.') })
  .meta({ id: 'ConfirmSecondFactor' });
export type ConfirmSecondFactor = z.infer<typeof ConfirmSecondFactor>;

/** Shown once; each opens one sign-in when the authenticator is lost. */
export const RecoveryCodes = z.object({ codes: z.array(z.string()) }).meta({ id: 'RecoveryCodes' });
export type RecoveryCodes = z.infer<typeof RecoveryCodes>;

/** One session of a person: where, since when, and when it ends by itself. */
export const SessionSummary = z
  .object({
    id: Id,
    device: z.string(),
    startedAt: Instant,
    lastSeenAt: Instant,
    /** Ends then unless it is used before. */
    idleEndsAt: Instant,
    /** Ends then in any case. */
    expiresAt: Instant,
    current: z.boolean(),
  })
  .meta({ id: 'SessionSummary' });
export type SessionSummary = z.infer<typeof SessionSummary>;
export const SessionList = z.object({ items: z.array(SessionSummary) }).meta({ id: 'SessionList' });
export type SessionList = z.infer<typeof SessionList>;

/** A role and the clinics to hold it at. */
const Place = { role: z.enum(roles), clinicIds: z.array(Id).min(1, 'Choose at least one clinic.').max(100) };

export const InvitePerson = z
  .strictObject({ name: ShortText, email: z.email().max(200), ...Place })
  .meta({ id: 'InvitePerson' });
export type InvitePerson = z.infer<typeof InvitePerson>;

export const InvitationSummary = z
  .object({
    id: Id,
    name: z.string(),
    email: z.string(),
    role: z.enum(roles),
    clinicIds: z.array(Id),
    /** A new password for somebody who is here already, rather than a new colleague. */
    renews: z.boolean(),
    createdAt: Instant,
    expiresAt: Instant,
  })
  .meta({ id: 'InvitationSummary' });
export type InvitationSummary = z.infer<typeof InvitationSummary>;
export const InvitationList = z.object({ items: z.array(InvitationSummary) }).meta({ id: 'InvitationList' });
/** The link's token is told once, to the administrator who made it; only its hash is kept. */
export const MadeInvitation = z
  .object({ invitation: InvitationSummary, path: z.string().startsWith('/#join=') })
  .meta({ id: 'MadeInvitation' });
export type MadeInvitation = z.infer<typeof MadeInvitation>;

export const LookAtInvitation = z
  .strictObject({ token: z.string().min(20).max(100) })
  .meta({ id: 'LookAtInvitation' });
export type LookAtInvitation = z.infer<typeof LookAtInvitation>;
export const InvitationShown = z
  .object({ name: z.string(), email: z.string(), role: z.enum(roles), expiresAt: Instant })
  .meta({ id: 'InvitationShown' });
export type InvitationShown = z.infer<typeof InvitationShown>;
export const AcceptInvitation = z
  .strictObject({ token: z.string().min(20).max(100), newPassword: NewPassword })
  .meta({ id: 'AcceptInvitation' });
export type AcceptInvitation = z.infer<typeof AcceptInvitation>;

export const ChangeMembership = z.strictObject({ ...Place, why: Sentence }).meta({ id: 'ChangeMembership' });
export type ChangeMembership = z.infer<typeof ChangeMembership>;
export const ReasonForPerson = z.strictObject({ why: Sentence }).meta({ id: 'ReasonForPerson' });
export type ReasonForPerson = z.infer<typeof ReasonForPerson>;
