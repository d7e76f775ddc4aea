import type { PlanRecord } from '@lensferry/contracts';
import { eyeInCapitals, type Eye, type Specification } from '@lensferry/domain';
import { caseMissing } from '../cases/cases.errors.js';
import { loadCase, standing } from '../cases/cases.store.js';
import { orderMissing } from '../orders/orders.queries.js';
import { fromDate, fromDateOrNull } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { returnMissing } from '../returns/returns.errors.js';
import { lensMissing } from '../stock/move-lens.js';
import type { SymbolContent } from './symbol.js';

/** An order with what its papers show. Nothing here tells who the patient is. */
export async function orderFacts({ tx }: Work, orderId: string) {
  const order = await tx.lensOrder.findFirst({
    where: { id: orderId },
    include: { signatures: { where: { voidedAt: null } } },
  });
  if (order === null) throw orderMissing();
  const clinic = await tx.clinic.findUniqueOrThrow({ where: { id: order.clinicId } });
  const maker = await tx.maker.findUniqueOrThrow({ where: { id: order.makerId } });
  const version = await tx.designVersion.findUniqueOrThrow({
    where: { id: order.designVersionId },
    include: { design: true },
  });
  const replaced =
    order.replacesLensId === null
      ? null
      : await tx.lensUnit.findFirst({ where: { id: order.replacesLensId }, include: { order: true } });
  return {
    order,
    specification: order.specification as unknown as Specification,
    signature: order.signatures[0] ?? null,
    clinic,
    maker,
    design: { name: version.design.name, code: version.design.code, version: version.version },
    replaces: replaced === null ? null : { serial: replaced.serial, orderNumber: replaced.order.number },
  };
}
export type OrderFacts = Awaited<ReturnType<typeof orderFacts>>;

/** A case on the day of its operation: its order of the present round, the plan behind it, and the lens that came. */
export async function theatreFacts({ tx }: Work, caseId: string) {
  const eyeCase = await tx.eyeCase.findFirst({
    where: { id: caseId },
    include: { patient: true, orders: { orderBy: { openedAt: 'asc' }, include: { lenses: true } } },
  });
  if (eyeCase === null) throw caseMissing();
  const clinic = await tx.clinic.findUniqueOrThrow({ where: { id: eyeCase.clinicId } });
  const surgeon = await tx.person.findUniqueOrThrow({ where: { id: eyeCase.surgeonId } });
  const order = eyeCase.orders.filter(({ round }) => round === eyeCase.round).at(-1) ?? null;
  const plan = order === null ? null : await tx.plan.findFirstOrThrow({ where: { id: order.planId } });
  const inEye = await tx.implantation.findFirst({
    where: { caseId, explantedOn: null },
    include: { lens: true },
  });
  return {
    eyeCase,
    clinic,
    surgeonName: surgeon.name,
    order,
    specification: order === null ? null : (order.specification as unknown as Specification),
    plan: plan === null ? null : (plan.result as unknown as Pick<PlanRecord, 'chosen' | 'chosenSize'>),
    findings:
      plan === null
        ? []
        : (plan.result as unknown as PlanRecord['result']).findings.filter(({ level }) => level !== 'fine'),
    lens: order?.lenses.find(({ state }) => state === 'reserved') ?? null,
    inEye: inEye?.lens ?? null,
    theatreOn: fromDateOrNull(eyeCase.theatreOn),
  };
}
export type TheatreFacts = Awaited<ReturnType<typeof theatreFacts>>;

/** A case as its patient is told of it: the latest plan, and the acuity with spectacles before surgery. */
export async function patientSheetFacts(work: Work, caseId: string) {
  const { tx } = work;
  const eyeCase = await loadCase(work, caseId);
  const row = await tx.plan.findFirst({ where: { caseId }, orderBy: { number: 'desc' } });
  const plan =
    row === null
      ? null
      : { number: row.number, chosen: (row.result as unknown as Pick<PlanRecord, 'chosen'>).chosen };
  const operatedOn = eyeCase.implantations
    .map(({ performedOn }) => fromDate(performedOn))
    .reduce((first, day) => (day < first ? day : first), '9999-12-31');
  const acuities = standing(eyeCase.measurements)
    .filter(({ kind, takenOn }) => kind === 'refraction' && fromDate(takenOn) <= operatedOn)
    .sort((a, b) => a.takenOn.getTime() - b.takenOn.getTime())
    .map(({ values }) => (values as Record<string, unknown>)['correctedDecimal'])
    .filter((value): value is number => typeof value === 'number');
  return { eyeCase, plan, spectaclesDecimal: acuities.at(-1) ?? null };
}
export type PatientSheetFacts = Omit<Awaited<ReturnType<typeof patientSheetFacts>>, 'plan'> & {
  readonly plan: NonNullable<Awaited<ReturnType<typeof patientSheetFacts>>['plan']>;
};

/** A unit with what its label shows. */
export async function lensFacts({ tx }: Work, lensId: string) {
  const lens = await tx.lensUnit.findFirst({
    where: { id: lensId },
    include: { order: { include: { eyeCase: { include: { patient: true } } } } },
  });
  if (lens === null) throw lensMissing();
  const maker = await tx.maker.findUniqueOrThrow({ where: { id: lens.makerId } });
  const version = await tx.designVersion.findUniqueOrThrow({
    where: { id: lens.order.designVersionId },
    include: { design: true },
  });
  const clinic = await tx.clinic.findUniqueOrThrow({ where: { id: lens.clinicId } });
  return {
    lens,
    maker,
    clinic,
    design: { name: version.design.name, code: version.design.code, version: version.version },
    caseCode: lens.order.eyeCase.code,
    codeName: lens.order.eyeCase.patient.codeName,
    theatreOn: fromDateOrNull(lens.order.eyeCase.theatreOn),
  };
}
export type LensFacts = Awaited<ReturnType<typeof lensFacts>>;

/** The unit as its symbol holds it. */
export function symbolContent({ lens, caseCode }: Pick<LensFacts, 'lens' | 'caseCode'>): SymbolContent {
  const { eye, ...powers } = lens.lens as { eye: Eye } & Omit<SymbolContent['lens'], 'eye' | 'caseCode'>;
  return {
    gtin: lens.gtin,
    serial: lens.serial,
    lot: lens.lot,
    expiresOn: fromDate(lens.expiresOn),
    labelText: lens.labelText,
    lens: { ...powers, eye: eyeInCapitals[eye], caseCode },
  };
}

/** The lens in an eye, with when and where it went in; null when there is none. */
export async function implantFacts(work: Work, caseId: string) {
  const eyeCase = await work.tx.eyeCase.findFirst({ where: { id: caseId }, include: { patient: true } });
  if (eyeCase === null) throw caseMissing();
  const implantation = await work.tx.implantation.findFirst({ where: { caseId, explantedOn: null } });
  if (implantation === null) return null;
  const surgeon = await work.tx.person.findUniqueOrThrow({ where: { id: implantation.surgeonId } });
  const identity = await work.tx.patientIdentity.count({
    where: { clinicId: eyeCase.clinicId, patientId: eyeCase.patientId, erasedAt: null },
  });
  return {
    ...(await lensFacts(work, implantation.lensId)),
    implantation,
    surgeonName: surgeon.name,
    eyeCase,
    hasIdentity: identity > 0,
  };
}
export type ImplantFacts = NonNullable<Awaited<ReturnType<typeof implantFacts>>>;

/** A return with its lens; nothing here tells who the patient is. */
export async function returnFacts(work: Work, returnId: string) {
  const row = await work.tx.lensReturn.findFirst({ where: { id: returnId } });
  if (row === null) throw returnMissing();
  return { row, ...(await lensFacts(work, row.lensId)) };
}
export type ReturnFacts = Awaited<ReturnType<typeof returnFacts>>;

/** The lenses that are reserved for operations between two days, in the order of theatre. */
export async function lensesForTheatre(work: Work, from: Date, to: Date): Promise<LensFacts[]> {
  const rows = await work.tx.lensUnit.findMany({
    where: { state: 'reserved', order: { eyeCase: { theatreOn: { gte: from, lte: to } } } },
    include: { order: { include: { eyeCase: true } } },
    take: 200,
  });
  const picked: LensFacts[] = [];
  for (const { id } of rows) picked.push(await lensFacts(work, id));
  return picked.sort((a, b) => (a.theatreOn ?? '').localeCompare(b.theatreOn ?? ''));
}
