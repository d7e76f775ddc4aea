import type { ComparisonQuery, OutcomeChoice, OutcomeQuery } from '@lensferry/contracts';
import type { OperatedEye } from './operated-eyes.queries.js';

/** The eyes that a question is about. */
export function selectEyes(eyes: readonly OperatedEye[], query: OutcomeQuery): OperatedEye[] {
  const asked = (wanted: string | undefined, is: string | null): boolean =>
    wanted === undefined || wanted === is;
  return eyes.filter(
    (eye) =>
      asked(query.clinicId, eye.clinic.id) &&
      asked(query.surgeonId, eye.surgeon.id) &&
      asked(query.makerId, eye.maker.id) &&
      asked(query.designCode, eye.design.code) &&
      asked(query.cylinder, eye.cylinderClass) &&
      asked(query.cone, eye.cone) &&
      (query.procedure === undefined || eye.procedures.includes(query.procedure)),
  );
}

/** The values that an eye has of what groups may differ by, each with its name. */
export function valuesOf(eye: OperatedEye, by: ComparisonQuery['by']): { value: string; label: string }[] {
  switch (by) {
    case 'cylinder':
      return [{ value: eye.cylinderClass, label: eye.cylinderClass }];
    case 'cone':
      return eye.cone === null ? [] : [{ value: eye.cone, label: eye.cone }];
    case 'procedure':
      return eye.procedures.map((value) => ({ value, label: value }));
    case 'design':
      return [{ value: eye.design.code, label: eye.design.name }];
    default:
      return [{ value: eye[by].id, label: eye[by].name }];
  }
}

/** What there is to choose from, with how many eyes, by name. */
export function choicesOf(eyes: readonly OperatedEye[], by: ComparisonQuery['by']): OutcomeChoice[] {
  const found = new Map<string, OutcomeChoice>();
  for (const { value, label } of eyes.flatMap((eye) => valuesOf(eye, by)))
    found.set(value, { value, label, n: (found.get(value)?.n ?? 0) + 1 });
  return [...found.values()].sort((a, b) => a.label.localeCompare(b.label));
}
