import {
  DEFAULT_SIZING_SETTINGS,
  logMarFromDecimal,
  type OutcomeEye,
  type OutcomeVisit,
  type SizingEye,
  type SphereCylinder,
} from '@lensferry/calculation';
import type { PlanChoice, PlanInput, SpheroCylinder } from '@lensferry/contracts';
import { ownMeasurements, type Eye, type MeasurementFacts } from '@lensferry/domain';
import { factsOf, lensBehind } from '../cases/cases.store.js';
import { namesOf } from '../people/people.queries.js';
import { daysBetween, fromDate } from '../platform/plain-date.js';
import type { Prisma } from '../platform/prisma-client/client.js';
import type { Work } from '../platform/work.js';

/** A lens that was in an eye, with what its vault came to. */
export interface VaultSeen {
  readonly designCode: string;
  readonly designVersionId: string;
  readonly eye: SizingEye;
  readonly lengthMm: number;
  /** The first vault from day 28 on, and its day; null when none was measured. */
  readonly vaultUm: number | null;
  readonly measuredOn: string | null;
  /** Days from the surgery that put this lens in. */
  readonly daysAfter: number | null;
}

/** An eye with a lens in it, as reports group and judge it. */
export interface OperatedEye {
  readonly caseId: string;
  readonly caseCode: string;
  readonly codeName: string;
  readonly patientId: string;
  readonly birthYear: number;
  readonly eye: Eye;
  readonly clinic: { readonly id: string; readonly name: string; readonly timeZone: string };
  readonly surgeon: { readonly id: string; readonly name: string };
  readonly maker: { readonly id: string; readonly name: string };
  readonly design: { readonly code: string; readonly name: string };
  readonly closed: boolean;
  /** The day the present lens was put in. */
  readonly operatedOn: string;
  readonly cylinderClass: 'below4' | 'from4';
  /** Null where the place of the cone was not measured. */
  readonly cone: 'central' | 'decentred' | null;
  readonly procedures: readonly string[];
  /** Kind of device of the refraction that was planned from. */
  readonly refractionDevice: string;
  /** What the optics of the plan said the present lens would leave, without any learned offset. */
  readonly predicted: SphereCylinder;
  readonly outcome: OutcomeEye;
  /** One for each lens that was ever in the eye, first lens first. */
  readonly vaults: readonly VaultSeen[];
}

/** A vault is judged from month 1 on (common practice, no source). */
const VAULT_FROM_DAY = 28;

const around = {
  patient: { include: { clinic: true } },
  measurements: { orderBy: [{ takenOn: 'asc' }, { recordedAt: 'asc' }] },
  implantations: {
    orderBy: [{ performedOn: 'asc' }, { recordedAt: 'asc' }],
    include: { lens: { include: { order: true } } },
  },
} as const satisfies Prisma.EyeCaseInclude;
type Row = Prisma.EyeCaseGetPayload<{ include: typeof around }>;
type Implanted = Row['implantations'][number];

interface PlanRow {
  readonly id: string;
  readonly designVersionId: string;
  readonly input: unknown;
  readonly choice: unknown;
  readonly result: unknown;
}

interface PlannedResult {
  readonly chosen: { readonly predicted: SpheroCylinder };
  readonly offset?: { readonly byOptics?: SpheroCylinder | null } | null;
}

interface Around {
  readonly plans: ReadonlyMap<string, PlanRow>;
  readonly names: ReadonlyMap<string, string>;
  readonly makers: ReadonlyMap<string, string>;
  readonly designs: ReadonlyMap<string, { code: string; name: string }>;
}

/** Every eye that has a lens, of the clinics that the person may see. */
export async function readOperatedEyes(work: Work): Promise<OperatedEye[]> {
  const { tx } = work;
  const rows = await tx.eyeCase.findMany({
    where: { implantations: { some: { explantedOn: null } } },
    include: around,
    orderBy: { code: 'asc' },
  });
  const planIds = rows.flatMap(({ implantations }) => implantations.map(({ lens }) => lens.order.planId));
  const [plans, names, makers, versions] = [
    await tx.plan.findMany({ where: { id: { in: planIds } } }),
    await namesOf(
      work,
      rows.map(({ surgeonId }) => surgeonId),
    ),
    await tx.maker.findMany({ select: { id: true, name: true } }),
    await tx.designVersion.findMany({ include: { design: true } }),
  ];
  const context: Around = {
    plans: new Map(plans.map((plan) => [plan.id, plan])),
    names,
    makers: new Map(makers.map(({ id, name }) => [id, name])),
    designs: new Map(versions.map(({ id, design }) => [id, { code: design.code, name: design.name }])),
  };
  return rows.flatMap((row) => operatedEye(row, context) ?? []);
}

function operatedEye(row: Row, { plans, names, makers, designs }: Around): OperatedEye | null {
  const [first] = row.implantations;
  const present = row.implantations.find(({ explantedOn }) => explantedOn === null);
  const plan = plans.get(present?.lens.order.planId ?? '');
  const firstPlan = plans.get(first?.lens.order.planId ?? '');
  if (first === undefined || present === undefined || plan === undefined || firstPlan === undefined)
    return null;
  const facts = factsOf(row.measurements);
  const own = ownMeasurements(facts, {
    performedOn: fromDate(first.performedOn),
    recordedAt: first.recordedAt.toISOString(),
  });
  const input = firstPlan.input as PlanInput;
  const { refraction } = input;
  const planned = row.measurements.find(
    ({ id, kind }) => kind === 'refraction' && input.measurementIds.includes(id),
  );
  return {
    caseId: row.id,
    caseCode: row.code,
    codeName: row.patient.codeName,
    patientId: row.patientId,
    birthYear: row.patient.birthYear,
    eye: row.eye,
    clinic: { id: row.clinicId, name: row.patient.clinic.name, timeZone: row.patient.clinic.timeZone },
    surgeon: { id: row.surgeonId, name: names.get(row.surgeonId) ?? '' },
    maker: { id: present.lens.makerId, name: makers.get(present.lens.makerId) ?? '' },
    design: designs.get(plan.designVersionId) ?? { code: '', name: '' },
    closed: row.closedAt !== null || row.withdrawnAt !== null,
    operatedOn: fromDate(present.performedOn),
    cylinderClass: Math.abs(refraction.cylinderD) < 4 ? 'below4' : 'from4',
    cone: coneOf(input),
    procedures: [
      ...new Set(
        own.filter(({ kind }) => kind === 'procedure').map(({ values }) => String(values['procedure'])),
      ),
    ],
    refractionDevice: planned?.device ?? '',
    predicted: byOptics(plan),
    outcome: {
      id: row.id,
      patient: row.patientId,
      before: {
        refraction: { ...sphereCylinder(refraction), vertexMm: refraction.vertexMm },
        ...acuitiesOf(own.filter(({ kind }) => kind === 'refraction')),
      },
      target: sphereCylinder((plan.choice as PlanChoice).target),
      visits: visitsOf(row, present, facts),
    },
    vaults: row.implantations.flatMap((implanted) => {
      const behind = plans.get(implanted.lens.order.planId);
      return behind === undefined ? [] : vaultSeen(row, implanted, facts, behind, designs);
    }),
  };
}

/** An offset that a plan was made with is left out again, or it would be learned as its own undoing. */
function byOptics({ result }: PlanRow): SphereCylinder {
  const { chosen, offset } = result as PlannedResult;
  return sphereCylinder(offset?.byOptics ?? chosen.predicted);
}

const sphereCylinder = ({ sphereD, cylinderD, axisDeg }: SpheroCylinder): SphereCylinder => ({
  sphereD,
  cylinderD,
  axisDeg: axisDeg ?? 0,
});

function coneOf({ coneDistanceMm }: PlanInput): OperatedEye['cone'] {
  if (coneDistanceMm === null) return null;
  return coneDistanceMm <= DEFAULT_SIZING_SETTINGS.cone.centralWithinMm ? 'central' : 'decentred';
}

/** The latest acuities among refractions, each for itself. */
function acuitiesOf(refractions: readonly MeasurementFacts[]) {
  const latest = (name: string): number | undefined => {
    const value = refractions.findLast(({ values }) => typeof values[name] === 'number')?.values[name];
    return typeof value === 'number' ? logMarFromDecimal(value) : undefined;
  };
  return {
    correctedLogMar: latest('correctedDecimal'),
    uncorrectedLogMar: latest('uncorrectedDecimal'),
  };
}

/** What was measured behind a lens, day by day. */
function visitsOf(row: Row, implanted: Implanted, facts: readonly MeasurementFacts[]): OutcomeVisit[] {
  const behind = facts.filter((fact) => lensBehind(row, fact)?.id === implanted.id);
  const operatedOn = fromDate(implanted.performedOn);
  const days = [...new Set(behind.map(({ takenOn }) => takenOn))].sort();
  return days.map((day) => {
    const that = behind.filter(({ takenOn }) => takenOn === day);
    const refraction = that.findLast(({ kind }) => kind === 'refraction');
    const vault = that.findLast(({ kind }) => kind === 'vault');
    return {
      daysAfter: daysBetween(operatedOn, day),
      ...(refraction && {
        refraction: refractionOf(refraction),
        ...acuitiesOf([refraction]),
      }),
      ...(vault && { vaultUm: Number(vault.values['vaultUm']) }),
    };
  });
}

function refractionOf({ values }: MeasurementFacts) {
  return {
    sphereD: Number(values['sphereD']),
    cylinderD: Number(values['cylinderD']),
    axisDeg: Number(values['axisDeg'] ?? 0),
    vertexMm: Number(values['vertexMm']),
  };
}

function vaultSeen(
  row: Row,
  implanted: Implanted,
  facts: readonly MeasurementFacts[],
  plan: PlanRow,
  designs: Around['designs'],
): VaultSeen {
  const operatedOn = fromDate(implanted.performedOn);
  const measured = facts.find(
    (fact) =>
      fact.kind === 'vault' &&
      daysBetween(operatedOn, fact.takenOn) >= VAULT_FROM_DAY &&
      lensBehind(row, fact)?.id === implanted.id,
  );
  const input = plan.input as PlanInput;
  const fields = [
    'whiteToWhiteMm',
    'sulcusMm',
    'verticalSulcusMm',
    'angleToAngleMm',
    'lensRiseUm',
    'lensThicknessMm',
    'kmaxD',
  ] as const;
  return {
    designCode: designs.get(plan.designVersionId)?.code ?? '',
    designVersionId: plan.designVersionId,
    eye: {
      ...Object.fromEntries(fields.map((field) => [field, input[field] ?? undefined])),
      anteriorChamberDepthMm: input.depthFromEndotheliumMm,
    },
    lengthMm: (implanted.lens.lens as { lengthMm: number }).lengthMm,
    vaultUm: measured === undefined ? null : Number(measured.values['vaultUm']),
    measuredOn: measured?.takenOn ?? null,
    daysAfter: measured === undefined ? null : daysBetween(operatedOn, measured.takenOn),
  };
}
