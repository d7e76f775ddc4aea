import {
  axisClassOf,
  judgeEye,
  learnOffsets,
  offsetCells,
  powerVector,
  type LearnedOffsets,
  type RefractionError,
} from '@lensferry/calculation';
import type { Work } from '../platform/work.js';
import { readOperatedEyes, type OperatedEye } from './operated-eyes.queries.js';

/** Refraction settles for about a month (common practice, no source). */
const REFRACTION_FROM_DAY = 28;

/** Achieved less predicted refraction of each eye that has settled, with its device, clinic and class of axis. */
export function refractionErrors(eyes: readonly OperatedEye[]): RefractionError[] {
  return eyes.flatMap(({ outcome, predicted, clinic, refractionDevice }) => {
    const judged = judgeEye(outcome, REFRACTION_FROM_DAY);
    if (judged === null) return [];
    const [got, said] = [powerVector(judged.visit.refraction), powerVector(predicted)];
    return {
      device: refractionDevice,
      clinic: clinic.name,
      axisClass: axisClassOf(outcome.before.refraction),
      meanD: got.meanD - said.meanD,
      j0D: got.j0D - said.j0D,
      j45D: got.j45D - said.j45D,
    };
  });
}

/** What the eyes that the person may see teach of offsets of refraction, and how many they are. */
export async function learnedOffsets(work: Work): Promise<{ eyes: number; learned: LearnedOffsets }> {
  const errors = refractionErrors(await readOperatedEyes(work));
  return { eyes: errors.length, learned: learnOffsets(offsetCells(errors)) };
}
