import { exchangePower, minusForm } from '@lensferry/calculation';
import type { Finding } from '@lensferry/contracts';
import type { GatheredEye, Specification } from '@lensferry/domain';
import { lensInEye, measuredBehind, type CaseRow } from '../cases/cases.store.js';

/** The lens whose power an exchange for size keeps. */
export interface LensToKeep {
  readonly designCode: string;
  readonly sphereD: number;
  readonly cylinderD: number;
  readonly axisDeg: number | null;
}

/** What an exchange plans its power from, and the sentence that says so. */
export interface ExchangePlanPower {
  readonly eye: GatheredEye;
  /** The lens to offer first; null when the power itself is to change. */
  readonly keep: LensToKeep | null;
  readonly finding: Finding;
}

const aboutPower: readonly string[] = ['refractive', 'rotation'];

/**
 * The power of a replacement. An exchange for size, damage or a wrong pack keeps the power that was signed; one for
 * the refraction starts from what is left behind the lens where it was seen to lie. Null when no lens is in the eye.
 * @param offsetsMm the lens plane of each design, by its code.
 */
export function powerForExchange(
  row: CaseRow,
  eye: GatheredEye,
  reason: string,
  offsetsMm: ReadonlyMap<string, number>,
): ExchangePlanPower | null {
  const inEye = lensInEye(row);
  const order = row.orders.find(({ id }) => id === inEye?.lens.orderId);
  if (inEye === undefined || order === undefined) return null;
  const { designCode, sphereD, cylinderD, axisDeg } = order.specification as unknown as Specification;
  const keep = { designCode, sphereD, cylinderD, axisDeg };
  if (!aboutPower.includes(reason)) {
    return {
      eye,
      keep,
      finding: finding(
        'fine',
        'This exchange keeps the power of the lens in the eye; only the size is to change.',
      ),
    };
  }
  const behind = measuredBehind(row, inEye.lensId);
  const left = behind.filter(({ kind }) => kind === 'refraction').at(-1);
  if (left === undefined) {
    return {
      eye,
      keep,
      finding: finding(
        'caution',
        'No refraction was taken behind the lens, so the power can’t be judged anew; refract first.',
      ),
    };
  }
  const seen = behind.filter(({ kind }) => kind === 'lens_axis').at(-1);
  const seenAxisDeg = seen === undefined ? inEye.axisDeg : Number(seen.values['axisDeg']);
  const after = {
    refraction: {
      sphereD: Number(left.values['sphereD']),
      cylinderD: Number(left.values['cylinderD']),
      axisDeg: Number(left.values['axisDeg'] ?? 0),
      vertexMm: Number(left.values['vertexMm']),
    },
    keratometry: { ...eye.keratometry, index: eye.keratometry.index ?? undefined },
    anteriorChamberDepthMm: eye.depthFromEndotheliumMm,
    cornealThicknessUm: eye.cornealThicknessUm,
    lensPlaneOffsetMm: offsetsMm.get(designCode),
  };
  const { eyeWithoutLens } = exchangePower(after, { sphereD, cylinderD, axisDeg: axisDeg ?? 0 }, seenAxisDeg);
  const refraction = {
    ...minusForm(eyeWithoutLens.refraction),
    vertexMm: eyeWithoutLens.refraction.vertexMm,
  };
  return {
    eye: {
      ...eye,
      measurementIds: [...eye.measurementIds, left.id, ...(seen === undefined ? [] : [seen.id])],
      refraction: { ...refraction, axisDeg: refraction.cylinderD === 0 ? null : refraction.axisDeg },
    },
    keep: null,
    finding: finding(
      'caution',
      `The power is planned anew from the refraction left on ${left.takenOn} behind the lens at ${Math.round(seenAxisDeg)}°; check that turning it would not be enough.`,
    ),
  };
}

function finding(level: Finding['level'], message: string): Finding {
  return { code: 'exchange-power', level, message, source: 'common practice, no source' };
}
