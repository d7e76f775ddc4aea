import { z } from 'zod';
import { Id, PlainDate } from './common.js';

const clinic = {
  /** Three capital letters; the first is no other clinic's, because numbers of orders and returns begin with it. */
  code: z.string().regex(/^[A-Z]{3}$/, 'Three capital letters, such as EST.'),
  name: z.string().trim().min(2).max(80),
  /** IANA name of the zone that the clinic works in. */
  timeZone: z.string().min(1).max(60),
};

/** The network's clinics by name, for those who send something there. */
export const ClinicNames = z
  .object({ items: z.array(z.object({ id: Id, code: z.string(), name: z.string() })) })
  .meta({ id: 'ClinicNames' });
export type ClinicNames = z.infer<typeof ClinicNames>;

/** A clinic that joins the network; whoever adds it belongs to it. */
export const AddClinic = z
  .strictObject({ ...clinic, holidays: z.array(PlainDate).max(400).default([]) })
  .meta({ id: 'AddClinic' });
export type AddClinic = z.infer<typeof AddClinic>;

export const AddedClinic = z.object({ id: Id, ...clinic }).meta({ id: 'AddedClinic' });
export type AddedClinic = z.infer<typeof AddedClinic>;

/** The first clinic of an empty network, and who looks after it. */
export const FoundNetwork = z.strictObject({
  ...clinic,
  adminName: z.string().trim().min(2).max(80),
  adminEmail: z.email(),
});
export type FoundNetwork = z.infer<typeof FoundNetwork>;
