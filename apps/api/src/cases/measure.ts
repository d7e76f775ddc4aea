import { minusForm } from '@lensferry/calculation';
import type { MeasurementCorrection, MeasurementInput } from '@lensferry/contracts';
import { DomainError } from '@lensferry/domain';
import { v7 as uuid } from 'uuid';
import { dayIn, toDate } from '../platform/plain-date.js';
import type { Work } from '../platform/work.js';
import { loadCase, standing, type CaseRow } from './cases.store.js';
import { refreshStage } from './refresh-stage.js';

type Values = Record<string, string | number | null>;

/** Records a measurement of a case's eye. A refraction is kept in minus form whatever form it came in. */
export async function addMeasurement(work: Work, caseId: string, input: MeasurementInput): Promise<string> {
  work.need('case.measure');
  const row = await loadCase(work, caseId);
  requireOpen(row);
  const id = await write(work, row, input, null, null);
  await refreshStage(work, caseId);
  return id;
}

/** Puts right a measurement; the first one stays on record beside the reason. */
export async function correctMeasurement(
  work: Work,
  caseId: string,
  measurementId: string,
  { measurement, why }: MeasurementCorrection,
): Promise<string> {
  work.need('case.measure');
  const row = await loadCase(work, caseId);
  requireOpen(row);
  const wrong = standing(row.measurements).find(({ id }) => id === measurementId);
  if (wrong === undefined)
    throw new DomainError(
      'missing',
      'measurement.missing',
      'There is no such measurement that still counts.',
    );
  if (wrong.kind !== measurement.kind)
    throw new DomainError(
      'invalid',
      'measurement.kind',
      `A ${wrong.kind} is corrected by a ${wrong.kind}.`,
      {},
      [{ pointer: '/measurement/kind', message: `This is a ${wrong.kind}.` }],
    );
  const id = await write(work, row, measurement, measurementId, why);
  await refreshStage(work, caseId);
  return id;
}

function requireOpen(row: CaseRow): void {
  if (row.withdrawnAt !== null || row.closedAt !== null)
    throw new DomainError(
      'conflict',
      'case.ended',
      'This case has ended; nothing more can be recorded for it.',
    );
}

async function write(
  work: Work,
  row: CaseRow,
  input: MeasurementInput,
  corrects: string | null,
  why: string | null,
): Promise<string> {
  const clinic = await work.tx.clinic.findUniqueOrThrow({ where: { id: row.clinicId } });
  const today = dayIn(clinic.timeZone, work.now);
  requirePast('/takenOn', input.takenOn, today);
  for (const name of ['performedOn', 'lastWornOn']) {
    const day = input.values[name];
    if (typeof day === 'string') requirePast(`/values/${name}`, day, today);
  }
  const id = uuid();
  const values = input.kind === 'refraction' ? inMinusForm(input.values as Values) : (input.values as Values);
  await work.tx.measurement.create({
    data: {
      clinicId: row.clinicId,
      id,
      caseId: row.id,
      kind: input.kind,
      takenOn: toDate(input.takenOn),
      device: input.device,
      observer: input.observer ?? work.actor.name,
      values,
      recordedAt: work.now,
      recordedBy: work.personId,
      corrects,
      why,
    },
  });
  work.record({
    clinicId: row.clinicId,
    action: corrects === null ? 'case.measure' : 'case.correct',
    caseId: row.id,
    facts: { kind: input.kind, takenOn: input.takenOn, values, ...(corrects === null ? {} : { corrects }) },
    why,
  });
  return id;
}

function requirePast(pointer: string, day: string, today: string): void {
  if (day > today)
    throw new DomainError('invalid', 'measurement.future', `${day} lies in the future.`, { day, today }, [
      { pointer, message: 'This day lies in the future.' },
    ]);
}

/** Keeps the cylinder in minus form; the same lens, written one way. */
function inMinusForm(values: Values): Values {
  const given = { sphereD: Number(values['sphereD']), cylinderD: Number(values['cylinderD']) };
  if (given.cylinderD === 0) return { ...values, axisDeg: null };
  const kept = minusForm({ ...given, axisDeg: Number(values['axisDeg']) });
  const round = (value: number): number => Math.round(value * 1000) / 1000;
  return {
    ...values,
    sphereD: round(kept.sphereD),
    cylinderD: round(kept.cylinderD),
    axisDeg: round(kept.axisDeg),
  };
}
