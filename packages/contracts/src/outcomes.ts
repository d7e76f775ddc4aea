import { eyes } from '@lensferry/domain';
import { z } from 'zod';
import { Id, PlainDate } from './common.js';

const list = <T extends z.ZodType>(item: T) => z.array(item).readonly();

/** Which eyes a report is of; what is left out does not narrow it. */
export const OutcomeQuery = z
  .strictObject({
    clinicId: z.uuid().optional(),
    surgeonId: z.uuid().optional(),
    makerId: z.uuid().optional(),
    designCode: z.string().trim().max(40).optional(),
    cylinder: z
      .enum(['below4', 'from4'])
      .optional()
      .describe('Cylinder of the refraction before, in dioptres.'),
    cone: z.enum(['central', 'decentred']).optional(),
    procedure: z.enum(['cross_linking', 'surface_laser', 'ring_segments', 'other']).optional(),
    minimumMonths: z.coerce
      .number()
      .int()
      .min(0)
      .max(240)
      .default(0)
      .describe('Least follow-up in months; eyes with less are left out and counted.'),
  })
  .meta({ id: 'OutcomeQuery' });
export type OutcomeQuery = z.infer<typeof OutcomeQuery>;

/** What two groups may differ by. */
export const comparedBy = ['cylinder', 'cone', 'procedure', 'clinic', 'surgeon', 'maker', 'design'] as const;

/** Two groups of the same eyes. `first` and `second` are a value of what they differ by: an id, a code or a word. */
export const ComparisonQuery = OutcomeQuery.extend({
  by: z.enum(comparedBy),
  first: z.string().trim().min(1).max(80),
  second: z.string().trim().min(1).max(80),
}).meta({ id: 'ComparisonQuery' });
export type ComparisonQuery = z.infer<typeof ComparisonQuery>;

/** A share with its 95 % Wilson limits. */
export const Share = z
  .object({ n: z.number(), count: z.number(), share: z.number(), low: z.number(), high: z.number() })
  .meta({ id: 'Share' });
export type Share = z.infer<typeof Share>;

const shareWith = <S extends z.ZodRawShape>(more: S) => Share.extend(more);
const OutcomeBin = shareWith({ from: z.number().nullable(), to: z.number().nullable() }).meta({
  id: 'OutcomeBin',
});
export type OutcomeBin = z.infer<typeof OutcomeBin>;
const within = list(shareWith({ within: z.number() }));

const SampleFigures = z
  .object({
    n: z.int(),
    mean: z.number(),
    sd: z.number(),
    median: z.number(),
    lowerQuartile: z.number(),
    upperQuartile: z.number(),
    min: z.number(),
    max: z.number(),
  })
  .meta({ id: 'SampleFigures' });

/** A figure with its bootstrap or exact 95 % limits. */
export const Estimate = z
  .object({ n: z.int(), estimate: z.number(), low: z.number(), high: z.number() })
  .meta({ id: 'Estimate' });
export type Estimate = z.infer<typeof Estimate>;

const OutcomePoint = z.object({ id: z.string(), x: z.number(), y: z.number() }).meta({ id: 'OutcomePoint' });
export type OutcomePoint = z.infer<typeof OutcomePoint>;
const OutcomeLine = z
  .object({
    slope: z.number(),
    slopeLow: z.number(),
    slopeHigh: z.number(),
    intercept: z.number(),
    rSquared: z.number(),
    residualSd: z.number(),
  })
  .meta({ id: 'OutcomeLine' });
const scatter = { n: z.int(), points: list(OutcomePoint), line: OutcomeLine.nullable() };
const Scatter = z.object(scatter).meta({ id: 'OutcomeScatter' });

const ellipse = z
  .object({ halfLongD: z.number(), halfShortD: z.number(), turnDeg: z.number() })
  .meta({ id: 'DoubleAngleEllipse' });
const DoubleAngle = z
  .object({
    n: z.int(),
    points: list(OutcomePoint),
    summary: z
      .object({
        n: z.int(),
        centroid: z.object({ magnitudeD: z.number(), axisDeg: z.number() }),
        centroidX: z.number(),
        centroidY: z.number(),
        sdX: z.number(),
        sdY: z.number(),
        meanMagnitudeD: z.number(),
        sdMagnitudeD: z.number(),
        spread: ellipse,
        ofCentroid: ellipse,
      })
      .nullable(),
  })
  .meta({ id: 'OutcomeDoubleAngle' });

/** The standard figures of refractive-surgery journals; one is null when no eye has what it needs. */
export const OutcomeFigures = z
  .object({
    eyes: z.int(),
    patients: z.int(),
    tooEarly: z.int(),
    minimumDays: z.int(),
    followUpDays: SampleFigures.nullable(),
    uncorrectedAcuity: z
      .object({
        n: z.int(),
        rows: list(z.object({ logMar: z.number(), uncorrectedAfter: Share, correctedBefore: Share })),
      })
      .nullable(),
    uncorrectedAgainstCorrected: z
      .object({ n: z.int(), bins: list(OutcomeBin), sameOrBetter: Share })
      .nullable(),
    linesChanged: z
      .object({ n: z.int(), rows: list(shareWith({ lines: z.int() })), lostOne: Share, lostTwo: Share })
      .nullable(),
    attemptedAchieved: z.object({ ...scatter, under: Share, over: Share }).nullable(),
    accuracy: z.object({ n: z.int(), bins: list(OutcomeBin), within, errorD: SampleFigures }).nullable(),
    stability: z
      .object({
        rows: list(
          z.object({
            code: z.string(),
            day: z.int().nullable(),
            n: z.int(),
            meanD: z.number(),
            sdD: z.number(),
            lowD: z.number().nullable(),
            highD: z.number().nullable(),
          }),
        ),
        moved: Share.nullable(),
      })
      .nullable(),
    cylinder: z
      .object({ n: z.int(), before: list(OutcomeBin), after: list(OutcomeBin), withinAfter: within })
      .nullable(),
    intendedInduced: Scatter.nullable(),
    angleOfError: z
      .object({
        n: z.int(),
        bins: list(OutcomeBin),
        arithmeticDeg: SampleFigures,
        absoluteDeg: SampleFigures,
      })
      .nullable(),
    astigmatismBefore: DoubleAngle,
    astigmatismAfter: DoubleAngle,
    efficacyIndex: Estimate.nullable(),
    safetyIndex: Estimate.nullable(),
    correctionIndex: Estimate.nullable(),
    successIndex: Estimate.nullable(),
    vault: z
      .object({
        n: z.int(),
        valuesUm: list(z.number()),
        summaryUm: SampleFigures,
        low: Share,
        intended: Share,
        high: Share,
      })
      .nullable(),
  })
  .meta({ id: 'OutcomeFigures' });
export type OutcomeFigures = z.infer<typeof OutcomeFigures>;

const choice = z.object({ value: z.string(), label: z.string(), n: z.int() }).meta({ id: 'OutcomeChoice' });
export type OutcomeChoice = z.infer<typeof choice>;

/** A report, what it could be narrowed to, and the lines that the trade holds it against. */
export const OutcomeReport = z
  .object({
    figures: OutcomeFigures,
    /** Values that there are eyes of, over all eyes that the person may see. */
    choices: z.object({
      clinic: list(choice),
      surgeon: list(choice),
      maker: list(choice),
      design: list(choice),
      procedure: list(choice),
    }),
    /** Common practice, no source. */
    references: z.object({
      withinHalfD: z.number(),
      withinOneD: z.number(),
      lostALine: z.number(),
      followUpMonthsAtLeast: z.int(),
      /** What the network calls low and high. */
      vaultBand: z.object({ lowBelowUm: z.number(), highAboveUm: z.number() }),
      source: z.string(),
    }),
    cautions: list(z.string()),
  })
  .meta({ id: 'OutcomeReport' });
export type OutcomeReport = z.infer<typeof OutcomeReport>;

const side = z.object({ label: z.string(), eyes: z.int(), tooEarly: z.int() });
/** Two groups, measure by measure, with the test used; p values are not corrected for being several. */
export const OutcomeComparison = z
  .object({
    by: z.enum(comparedBy),
    minimumDays: z.int(),
    first: side,
    second: side,
    rows: list(
      z.object({
        measure: z.string(),
        unit: z.enum(['share', 'D', 'logMAR', 'lines', 'µm']),
        statistic: z.enum(['share', 'median', 'mean']),
        test: z.string(),
        p: z.number(),
        first: Estimate,
        second: Estimate,
      }),
    ),
    note: z.string(),
  })
  .meta({ id: 'OutcomeComparison' });
export type OutcomeComparison = z.infer<typeof OutcomeComparison>;

/** The visits of follow-up as days after surgery, rising; the last one comes back yearly. `was` is what one saw. */
export const VisitSchedule = z
  .strictObject({
    was: z.array(z.int()).describe('The days that the change started from.'),
    visitDays: z
      .array(z.int().min(0).max(3650))
      .min(1)
      .max(20)
      .refine((days) => days.every((day, i) => i === 0 || day > (days[i - 1] ?? 0)), {
        message: 'Give each visit a later day than the one before it.',
      }),
    why: z.string().trim().min(3).max(500),
  })
  .meta({ id: 'VisitSchedule' });
export type VisitSchedule = z.infer<typeof VisitSchedule>;

export const VisitsQuery = z
  .strictObject({
    clinicId: z.uuid().optional(),
    state: z.enum(['due', 'overdue', 'ahead', 'all']).default('all'),
  })
  .meta({ id: 'VisitsQuery' });
export type VisitsQuery = z.infer<typeof VisitsQuery>;

/** One visit that somebody waits for: the latest that is due or overdue, or the next ahead. */
export const DueVisit = z
  .object({
    caseId: Id,
    caseCode: z.string(),
    codeName: z.string(),
    eye: z.enum(eyes),
    clinic: z.object({ id: Id, name: z.string() }),
    operatedOn: PlainDate,
    visit: z.string(),
    dueOn: PlainDate,
    latestOn: PlainDate,
    state: z.enum(['due', 'overdue', 'ahead']),
    daysFromNow: z.int(),
    /** Visits of the schedule that were never made. */
    missed: list(z.string()),
  })
  .meta({ id: 'DueVisit' });
export type DueVisit = z.infer<typeof DueVisit>;
export const DueVisits = z
  .object({
    items: list(DueVisit),
    total: z.int().describe('How many wait for a visit; the items are the first of them.'),
    schedule: list(z.object({ code: z.string(), day: z.int() })),
  })
  .meta({ id: 'DueVisits' });
export type DueVisits = z.infer<typeof DueVisits>;

/** Which eyes leave as a table, and whether they may be known again. */
export const ExportQuery = OutcomeQuery.extend({
  identified: z
    .enum(['no', 'yes'])
    .default('no')
    .describe('With case codes and true dates: for those who may see patients, and kept on record.'),
}).meta({ id: 'ExportQuery' });
export type ExportQuery = z.infer<typeof ExportQuery>;
