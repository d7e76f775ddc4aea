import { requireNumber, type NumberRange } from '../calculation-error.js';
import { normalAxisDeg, turnDeg } from '../optics/power-vector.js';
import type { Refraction } from '../optics/types.js';
import { vertexStep } from '../optics/vertex-step.js';

const MAGNITUDE: NumberRange = { min: 0, max: 60, unit: 'D' };
const AXIS: NumberRange = { min: 0, max: 180, unit: 'degrees' };
/** Below this an astigmatism has no direction (rounding left-overs), in dioptres. */
const NONE_D = 1e-9;

/** Astigmatism as magnitude (D, 0 or more) at an axis (degrees), both ends of it in the same form and plane. */
export interface Astigmatism {
  readonly magnitudeD: number;
  readonly axisDeg: number;
}

/** What was intended, induced and left in one eye, and the indices that compare them. */
export interface VectorAnalysis {
  /** Target induced astigmatism: what the operation was to change. */
  readonly targetInduced: Astigmatism;
  /** Surgically induced astigmatism: what it changed. */
  readonly surgicallyInduced: Astigmatism;
  /** Difference vector: what would still have to be changed. */
  readonly difference: Astigmatism;
  /** Left out when no change was intended, because everything would be divided by nothing. */
  readonly indices?: {
    /** |induced| / |intended|: 1 is right, below 1 too little. */
    readonly correction: number;
    /** |left| / |intended|: 0 is perfect. */
    readonly success: number;
    /** Part of the induced change that acted at the intended axis. */
    readonly flattening: number;
    /** Induced minus intended axis, above -90 to 90 degrees; left out when nothing was induced. */
    readonly angleOfErrorDeg?: number;
  };
}

/**
 * A refraction's astigmatism at the corneal plane: the size of its minus cylinder at that cylinder's axis.
 * Throws CalculationError for an impossible refraction.
 */
export function refractiveAstigmatism(refraction: Refraction): Astigmatism {
  const { cylinderD, axisDeg } = vertexStep(refraction, refraction.vertexMm);
  return { magnitudeD: -cylinderD + 0, axisDeg };
}

interface Plane {
  readonly x: number;
  readonly y: number;
}

/** The point of an astigmatism in double-angle space, in dioptres. */
export function doubleAngle({ magnitudeD, axisDeg }: Astigmatism): Plane {
  requireNumber('magnitudeD', magnitudeD, MAGNITUDE);
  requireNumber('axisDeg', axisDeg, AXIS);
  const angle = (axisDeg * Math.PI) / 90;
  return { x: magnitudeD * Math.cos(angle), y: magnitudeD * Math.sin(angle) };
}

/** The astigmatism of a point in double-angle space; axis 0 ≤ axis < 180, and 0 when there is no astigmatism. */
export function fromDoubleAngle({ x, y }: Plane): Astigmatism {
  const magnitudeD = Math.hypot(x, y);
  if (magnitudeD < NONE_D) return { magnitudeD: 0, axisDeg: 0 };
  return { magnitudeD, axisDeg: normalAxisDeg((Math.atan2(y, x) * 90) / Math.PI) };
}

const minus = (a: Plane, b: Plane): Plane => ({ x: a.x - b.x, y: a.y - b.y });

/**
 * Vector analysis of one eye. All three astigmatisms belong at the corneal plane, in one form.
 * Throws CalculationError for a magnitude below 0 or an axis outside 0 to 180.
 * @source Alpins. J Cataract Refract Surg 2001;27:31-49
 * @example analyseVectors({magnitudeD: 4, axisDeg: 30}, {magnitudeD: 0, axisDeg: 0}, {magnitudeD: 1, axisDeg: 60}).indices?.correction // 0.901
 */
export function analyseVectors(before: Astigmatism, target: Astigmatism, after: Astigmatism): VectorAnalysis {
  const [pre, aim, post] = [doubleAngle(before), doubleAngle(target), doubleAngle(after)];
  const targetInduced = fromDoubleAngle(minus(aim, pre));
  const surgicallyInduced = fromDoubleAngle(minus(post, pre));
  const difference = fromDoubleAngle(minus(aim, post));
  const vectors = { targetInduced, surgicallyInduced, difference };
  const intended = targetInduced.magnitudeD;
  if (intended === 0) return vectors;
  const correction = surgicallyInduced.magnitudeD / intended;
  const success = difference.magnitudeD / intended;
  if (correction === 0) return { ...vectors, indices: { correction, success, flattening: 0 } };
  const angleOfErrorDeg = turnDeg(targetInduced.axisDeg, surgicallyInduced.axisDeg);
  const flattening = correction * Math.cos((angleOfErrorDeg * Math.PI) / 90);
  return { ...vectors, indices: { correction, success, flattening, angleOfErrorDeg } };
}
