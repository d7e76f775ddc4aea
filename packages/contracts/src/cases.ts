import { awaited, caseStages, eyes, type Awaited } from '@lensferry/domain';
import { z } from 'zod';
import { Id, Instant, pageOf, PlainDate, Sentence, ShortText, Version } from './common.js';
import { LensSummary, ReadLens } from './lenses.js';
import { Measurement } from './measurements.js';
import { HistoryEntry, OrderSummary } from './orders.js';
import { MakerOffer, UnableDesign, PlanRecord } from './plans.js';

const identityName = z.string().trim().min(1).max(200);

/** Opens a case: a code name for everyday use, the identity sealed apart from it. */
export const OpenCase = z
  .strictObject({
    clinicId: Id,
    codeName: ShortText.describe('A code name such as a plant and a number; never the patient’s name.'),
    birthYear: z.int().min(1900).max(2100),
    identity: z
      .strictObject({ name: identityName, birthDate: PlainDate, recordNumber: ShortText })
      .optional(),
    eye: z.enum(eyes),
    surgeonId: Id,
  })
  .meta({ id: 'OpenCase' });
export type OpenCase = z.infer<typeof OpenCase>;

export const PatientIdentity = z
  .object({ name: z.string(), birthDate: PlainDate, recordNumber: z.string() })
  .meta({ id: 'PatientIdentity' });
export type PatientIdentity = z.infer<typeof PatientIdentity>;

/** What is waited for, by whom, since and until when. */
export const Waiting = z
  .object({
    for: z.enum(Object.keys(awaited) as [Awaited, ...Awaited[]]),
    by: z.string().nullable(),
    /** The person or maker by name, where it is one. */
    byName: z.string().nullable(),
    since: Instant,
    until: PlainDate.nullable(),
  })
  .meta({ id: 'Waiting' });
export type Waiting = z.infer<typeof Waiting>;

export const CaseSummary = z
  .object({
    id: Id,
    code: z.string(),
    codeName: z.string(),
    eye: z.enum(eyes),
    clinic: z.object({ id: Id, name: z.string(), timeZone: z.string() }),
    surgeon: z.object({ id: Id, name: z.string() }),
    stage: z.enum(caseStages),
    stageSince: Instant,
    inExchange: z.boolean(),
    theatreOn: PlainDate.nullable(),
    openedAt: Instant,
    version: Version,
    waiting: Waiting,
  })
  .meta({ id: 'CaseSummary' });
export type CaseSummary = z.infer<typeof CaseSummary>;
export const CasePage = pageOf(CaseSummary, 'CasePage');

/** What can be decided about reporting that a lens was taken out. */
export const eventDecisions = ['reported', 'not_to_report'] as const;

/** Writes down that somebody thought of reporting an explanted lens, and what was decided; nothing is sent by it. */
export const ConsiderEvent = z
  .strictObject({
    implantationId: Id,
    decision: z.enum(eventDecisions),
    /** The clinic's own reference, such as the number that an authority gave. */
    reference: ShortText.optional(),
    why: Sentence,
  })
  .meta({ id: 'ConsiderEvent' });
export type ConsiderEvent = z.infer<typeof ConsiderEvent>;

export const ImplantationView = z
  .object({
    id: Id,
    lensId: Id,
    serial: z.string(),
    performedOn: PlainDate,
    recordedAt: Instant,
    axisDeg: z.int(),
    surgeonName: z.string(),
    explantedOn: PlainDate.nullable(),
    explantWhy: z.string().nullable(),
    /** What was decided about reporting that it was taken out; null while nobody has thought of it. */
    consideration: z
      .object({
        decision: z.enum(eventDecisions),
        reference: z.string().nullable(),
        why: z.string(),
        decidedAt: Instant,
        decidedBy: z.string(),
      })
      .nullable(),
    lens: ReadLens,
  })
  .meta({ id: 'Implantation' });
export type ImplantationView = z.infer<typeof ImplantationView>;

export const exchangeReasons = [
  'vault_high',
  'vault_low',
  'edge_capture',
  'rotation',
  'refractive',
  'damage',
  'wrong_lens',
] as const;

/** What this eye's own vault says about each size: the model corrected by what was measured. */
export const ExchangeProposal = z
  .object({
    designVersionId: Id,
    currentLengthMm: z.number(),
    measuredVaultUm: z.number().nullable(),
    proposedLengthMm: z.number().nullable(),
    sizes: z.array(
      z.object({
        lengthMm: z.number(),
        vaultUm: z.object({ p10: z.number(), p50: z.number(), p90: z.number() }),
        intended: z.number(),
      }),
    ),
    sentence: z.string(),
    reasons: z.array(z.string()),
  })
  .meta({ id: 'ExchangeProposal' });
export type ExchangeProposal = z.infer<typeof ExchangeProposal>;

export const ExchangeView = z
  .object({
    id: Id,
    round: z.int(),
    reason: z.enum(exchangeReasons),
    lensId: Id,
    serial: z.string(),
    openedAt: Instant,
    openedBy: z.string(),
    endedAt: Instant.nullable(),
    endedWhy: z.string().nullable(),
    proposal: ExchangeProposal,
    note: z.string(),
  })
  .meta({ id: 'Exchange' });
export type ExchangeView = z.infer<typeof ExchangeView>;

export const VaultCheck = z
  .object({
    measurementId: Id,
    takenOn: PlainDate,
    vaultUm: z.number(),
    lighting: z.string(),
    daysAfterSurgery: z.int().nullable(),
    lensId: Id.nullable(),
    level: z.enum(['fine', 'caution', 'stop']),
    band: z.enum(['low', 'intended', 'high']),
    message: z.string(),
    /** What the message says, by the codes of `judgeVault`, and by which limits: for its sentences in another language. */
    reasons: z.array(z.string()),
    limits: z.object({ lowBelowUm: z.number(), highAboveUm: z.number(), settledFromDay: z.int() }),
  })
  .meta({ id: 'VaultCheck' });
export type VaultCheck = z.infer<typeof VaultCheck>;

export const RotationAdvice = z
  .object({
    verdict: z.enum(['leave', 'turn', 'exchange']),
    turnDeg: z.number(),
    remaining: z.object({ sphereD: z.number(), cylinderD: z.number(), axisDeg: z.number().nullable() }),
    message: z.string(),
  })
  .meta({ id: 'RotationAdvice' });

export const CaseDetail = CaseSummary.extend({
  birthYear: z.int(),
  hasIdentity: z.boolean(),
  /** When the identity was erased; null when it wasn't, or there never was one. */
  identityErasedAt: Instant.nullable(),
  round: z.int(),
  withdrawnWhy: z.string().nullable(),
  /** Which measurements a plan still needs. */
  missing: z.array(z.string()),
  stages: z.array(z.object({ stage: z.enum(caseStages), at: Instant, note: z.string().nullable() })),
  measurements: z.array(Measurement),
  plans: z.array(PlanRecord),
  orders: z.array(OrderSummary),
  lenses: z.array(LensSummary),
  implantations: z.array(ImplantationView),
  exchanges: z.array(ExchangeView),
  vaultChecks: z.array(VaultCheck),
  rotation: RotationAdvice.nullable(),
  /** What an exchange would look like now, when a lens is in the eye and its vault was measured. */
  proposal: ExchangeProposal.nullable(),
  /** Makers that can make the lens this eye needs, soonest first; null when no lens is to be ordered now. */
  offers: z.array(MakerOffer).nullable(),
  /** Designs that can't make it, each with its reasons; null with the offers. */
  unable: z.array(UnableDesign).nullable(),
  history: z.array(HistoryEntry),
  /** What the person who asks may do with the case itself. */
  actions: z.array(
    z.enum([
      'measure',
      'plan',
      'schedule',
      'implant',
      'exchange',
      'end-exchange',
      'consider',
      'close',
      'withdraw',
      'identity',
      'export-subject',
      'erase-identity',
    ]),
  ),
}).meta({ id: 'CaseDetail' });
export type CaseDetail = z.infer<typeof CaseDetail>;

/** Erases who a patient is: the password once more, and why, in words that do not name the patient. */
export const EraseIdentity = z
  .strictObject({ password: z.string().min(1).max(200), why: Sentence })
  .meta({ id: 'EraseIdentity' });
export type EraseIdentity = z.infer<typeof EraseIdentity>;

/** Everything that is held about a patient at a clinic, for that person. */
export const SubjectExport = z
  .object({
    madeAt: Instant,
    madeBy: z.string(),
    clinic: z.string(),
    codeName: z.string(),
    birthYear: z.int(),
    identity: PatientIdentity.nullable(),
    identityErasedAt: Instant.nullable(),
    /** Who opened the identity, and when. */
    looks: z.array(z.object({ at: Instant, by: z.string() })),
    cases: z.array(CaseDetail.omit({ offers: true, unable: true, actions: true, proposal: true })),
  })
  .meta({ id: 'SubjectExport' });
export type SubjectExport = z.infer<typeof SubjectExport>;

export const ScheduleTheatre = z
  .strictObject({ version: Version, theatreOn: PlainDate.nullable() })
  .meta({ id: 'ScheduleTheatre' });
export const CloseCase = z.strictObject({ version: Version, why: Sentence }).meta({ id: 'CloseCase' });

/** Records an implantation. In an exchange the first lens comes out in the same operation. */
export const RecordImplantation = z
  .strictObject({
    version: Version,
    lensId: Id,
    /** The serial read off the pack in theatre, once more. */
    serial: ShortText,
    performedOn: PlainDate,
    /** Where the lens's axis came to lie, degrees. */
    axisDeg: z.int().min(1).max(180),
  })
  .meta({ id: 'RecordImplantation' });
export type RecordImplantation = z.infer<typeof RecordImplantation>;

export const OpenExchange = z
  .strictObject({ version: Version, reason: z.enum(exchangeReasons), note: Sentence })
  .meta({ id: 'OpenExchange' });
export type OpenExchange = z.infer<typeof OpenExchange>;
export const EndExchange = z.strictObject({ version: Version, why: Sentence }).meta({ id: 'EndExchange' });
