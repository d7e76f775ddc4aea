import { requireNumber } from '../calculation-error.js';
import { backToSpectacles, emptyOptics, writeOptics } from '../optics/eye-optics.js';
import {
  emptyVector,
  fromComponents,
  normalAxisDeg,
  powerVector,
  turnDeg,
  writeVector,
} from '../optics/power-vector.js';
import { OPTICS_RANGES, requireSphereCylinder } from '../optics/ranges.js';
import type { MutablePowerVector, PhakicEye, PowerVector, SphereCylinder } from '../optics/types.js';
import type { Reason } from '../sizing/vault-basis.js';

/** When a turn is worth it and when it is not enough (common practice, no source). */
export interface RotationSettings {
  /** Cylinder and spherical error up to this are left alone, in D. */
  readonly leaveUpToD: number;
  /** A turn must take off at least this much cylinder, in D. */
  readonly leastGainD: number;
  /** Turns smaller than the axis can be read are not made, in degrees. */
  readonly leastTurnDeg: number;
  /** Cylinder or spherical error above this after the best turn calls for another lens, in D. */
  readonly exchangeAboveD: number;
  /** Spread of the axis seen at the slit lamp, in degrees. */
  readonly seenAxisSdDeg: number;
  /** Spread of each cylinder component of the refraction, in D (J Ophthalmol 2020;2020:4831298). */
  readonly cylinderSdD: number;
}

/** Defaults; common practice except where a source is given above. */
export const DEFAULT_ROTATION_SETTINGS: RotationSettings = {
  leaveUpToD: 0.75,
  leastGainD: 0.5,
  leastTurnDeg: 5,
  exchangeAboveD: 1,
  seenAxisSdDeg: 2,
  cylinderSdD: 0.27,
};

/** A lens in the eye: what it is, where it lies, and what refraction it leaves. */
export interface RotationQuestion {
  /** The implanted lens; its axis is not used. */
  readonly lens: SphereCylinder;
  /** Axis of its cylinder as seen at the slit lamp, 0 to 180 degrees, minus-cylinder axis. */
  readonly seenAxisDeg: number;
  /** The refraction left, with its vertex distance when the eye is given. */
  readonly refraction: SphereCylinder & { readonly vertexMm?: number | undefined };
  readonly target?: SphereCylinder | undefined;
  /** Cornea and depth; with them the refraction is carried to the lens plane exactly. */
  readonly eye?:
    | Pick<PhakicEye, 'keratometry' | 'anteriorChamberDepthMm' | 'cornealThicknessUm' | 'lensPlaneOffsetMm'>
    | undefined;
  readonly settings?: Partial<RotationSettings> | undefined;
}

/** The best turn, what it leaves and what to do. */
export interface BestRotation {
  readonly verdict: 'leave' | 'turn' | 'exchange';
  /** Above -90, at most +90 degrees; positive is counter-clockwise as one faces the eye. */
  readonly turnDeg: number;
  readonly angleDeg: number;
  readonly direction: 'clockwise' | 'counterclockwise' | 'none';
  /** Axis of the lens after the turn, 0 ≤ a < 180. */
  readonly newAxisDeg: number;
  /** Standard deviation of the best turn from the spread of refraction and axis reading, in degrees. */
  readonly turnSdDeg: number;
  readonly before: SphereCylinder;
  readonly after: SphereCylinder;
  /** Cylinder now and after the best turn, without the target, 0 or more, in D. */
  readonly cylinderBeforeD: number;
  readonly cylinderAfterD: number;
  /** Spherical equivalent from the target, which a turn hardly changes, in D. */
  readonly equivalentErrorD: number;
  readonly reasons: readonly Reason[];
}

interface Turned {
  readonly turn: number;
  readonly neededCylinderD: number;
  readonly after: PowerVector;
}

/**
 * The turn of a toric lens that leaves the least cylinder, what remains after it, and whether to
 * leave, turn or exchange. The lens and the refraction left add up to the cylinder that the eye
 * needs; the lens belongs at that axis.
 * Throws CalculationError naming field, value and range.
 * @source Felipe et al. J Cataract Refract Surg (residual cylinder 2 C sin θ); power vectors Thibos 1997
 * @example bestRotation({ lens: { sphereD: 0, cylinderD: -3, axisDeg: 20 }, seenAxisDeg: 20,
 *   refraction: { sphereD: 0.5, cylinderD: -1.25, axisDeg: 100 } }) // turn +6.59°, 1.125 D remain: exchange
 */
export function bestRotation(question: RotationQuestion): BestRotation {
  const settings = rotationSettings(question.settings);
  const { lens, seenAxisDeg } = question;
  requireSphereCylinder('lens', lens, OPTICS_RANGES.sphereD, OPTICS_RANGES.cylinderD);
  requireNumber('seenAxisDeg', seenAxisDeg, OPTICS_RANGES.axisDeg);
  const before = powerVector(question.refraction);
  const target = powerVector(question.target ?? PLANO);
  const turned = question.eye === undefined ? inOnePlane(question, before, target) : inEye(question);
  const leftOver = (v: PowerVector): number => 2 * Math.hypot(v.j0D - target.j0D, v.j45D - target.j45D);
  const numbers = {
    cylinderBeforeD: leftOver(before),
    cylinderAfterD: leftOver(turned.after),
    equivalentErrorD: turned.after.meanD - target.meanD,
  };
  const verdict = verdictOf(numbers, Math.abs(turned.turn), settings);
  return {
    verdict,
    turnDeg: turned.turn,
    angleDeg: Math.abs(turned.turn),
    direction: turned.turn === 0 ? 'none' : turned.turn > 0 ? 'counterclockwise' : 'clockwise',
    newAxisDeg: normalAxisDeg(seenAxisDeg + turned.turn),
    turnSdDeg: turnSpread(turned.neededCylinderD, settings),
    before: fromComponents(before.meanD, before.j0D, before.j45D),
    after: fromComponents(turned.after.meanD, turned.after.j0D, turned.after.j45D),
    ...numbers,
    reasons: reasonsFor(verdict, numbers, turned.turn, settings),
  };
}

const PLANO: SphereCylinder = { sphereD: 0, cylinderD: 0, axisDeg: 0 };

/** Lens and refraction taken as lying in one plane, where only the cylinder matters. */
function inOnePlane(question: RotationQuestion, before: PowerVector, target: PowerVector): Turned {
  const { lens, seenAxisDeg } = question;
  const lying = writeVector(lens.sphereD, lens.cylinderD, seenAxisDeg, emptyVector());
  const neededJ0 = before.j0D - target.j0D + lying.j0D;
  const neededJ45 = before.j45D - target.j45D + lying.j45D;
  const { turn, cylinderD } = turnTo(lens, seenAxisDeg, neededJ0, neededJ45);
  const placed = writeVector(lens.sphereD, lens.cylinderD, seenAxisDeg + turn, emptyVector());
  const after = {
    meanD: before.meanD,
    j0D: before.j0D + lying.j0D - placed.j0D,
    j45D: before.j45D + lying.j45D - placed.j45D,
  };
  return { turn, neededCylinderD: cylinderD, after };
}

/** The same at the lens plane, with the refraction carried there and back through this cornea. */
function inEye(question: RotationQuestion): Turned {
  const { lens, seenAxisDeg, refraction, eye } = question;
  const optics = writeOptics(
    {
      ...(eye as NonNullable<RotationQuestion['eye']>),
      refraction: { ...refraction, vertexMm: refraction.vertexMm as number },
      target: question.target,
    },
    emptyOptics(),
  );
  const lying = writeVector(lens.sphereD, lens.cylinderD, seenAxisDeg, emptyVector());
  const whole: MutablePowerVector = {
    meanD: optics.needed.meanD + lying.meanD,
    j0D: optics.needed.j0D + lying.j0D,
    j45D: optics.needed.j45D + lying.j45D,
  };
  const { turn, cylinderD } = turnTo(
    lens,
    seenAxisDeg,
    whole.j0D - optics.wanted.j0D,
    whole.j45D - optics.wanted.j45D,
  );
  const placed = writeVector(lens.sphereD, lens.cylinderD, seenAxisDeg + turn, emptyVector());
  whole.meanD -= placed.meanD;
  whole.j0D -= placed.j0D;
  whole.j45D -= placed.j45D;
  backToSpectacles(whole, optics, 'lens');
  return { turn, neededCylinderD: cylinderD, after: whole };
}

/** The turn that brings the lens's minus cylinder onto the cylinder that is needed. */
function turnTo(
  lens: SphereCylinder,
  seenAxisDeg: number,
  neededJ0: number,
  neededJ45: number,
): { turn: number; cylinderD: number } {
  const needed = fromComponents(0, neededJ0, neededJ45);
  // A lens or a need without cylinder has no axis: nothing to turn.
  if (lens.cylinderD === 0 || needed.cylinderD === 0) return { turn: 0, cylinderD: 0 };
  // Seen axes are minus-cylinder axes; a lens written in plus form has it 90 degrees away.
  const minusAxis = lens.cylinderD < 0 ? seenAxisDeg : seenAxisDeg + 90;
  const turn = turnDeg(minusAxis, needed.axisDeg);
  // What rounding leaves of no turn at all has no direction.
  return { turn: Math.abs(turn) < 1e-9 ? 0 : turn, cylinderD: -needed.cylinderD };
}

function turnSpread(neededCylinderD: number, settings: RotationSettings): number {
  if (neededCylinderD === 0) return 0;
  const fromRefraction = (settings.cylinderSdD / (neededCylinderD / 2)) * (90 / Math.PI);
  return Math.hypot(fromRefraction, settings.seenAxisSdDeg);
}

interface Numbers {
  readonly cylinderBeforeD: number;
  readonly cylinderAfterD: number;
  readonly equivalentErrorD: number;
}

function verdictOf(n: Numbers, angleDeg: number, s: RotationSettings): BestRotation['verdict'] {
  const sphereD = Math.abs(n.equivalentErrorD);
  if (n.cylinderBeforeD <= s.leaveUpToD && sphereD <= s.leaveUpToD) return 'leave';
  if (n.cylinderAfterD > s.exchangeAboveD || sphereD > s.exchangeAboveD) return 'exchange';
  const gainD = n.cylinderBeforeD - n.cylinderAfterD;
  return gainD >= s.leastGainD && angleDeg >= s.leastTurnDeg ? 'turn' : 'leave';
}

function reasonsFor(
  verdict: BestRotation['verdict'],
  n: Numbers,
  turn: number,
  s: RotationSettings,
): Reason[] {
  const before = `${n.cylinderBeforeD.toFixed(2)} D`;
  const after = `${n.cylinderAfterD.toFixed(2)} D`;
  const way = turn > 0 ? 'counter-clockwise' : 'clockwise';
  const by = `${Math.abs(turn).toFixed(1)}° ${way}`;
  const message =
    verdict === 'leave'
      ? `The best turn, ${by}, would take the cylinder from ${before} to ${after}; that is not worth a turn.`
      : verdict === 'turn'
        ? `Turning ${by} takes the cylinder from ${before} to ${after}.`
        : `Even the best turn, ${by}, leaves ${after} of cylinder and ${n.equivalentErrorD.toFixed(2)} D of spherical error; more than ${s.exchangeAboveD.toFixed(2)} D calls for another lens.`;
  return [{ code: `rotation.${verdict}`, message }];
}

function rotationSettings(own: Partial<RotationSettings> = {}): RotationSettings {
  const s: RotationSettings = { ...DEFAULT_ROTATION_SETTINGS, ...own };
  const power = { min: 0, max: 10, unit: 'D' };
  const angle = { min: 0, max: 90, unit: 'degrees' };
  requireNumber('settings.leaveUpToD', s.leaveUpToD, power);
  requireNumber('settings.leastGainD', s.leastGainD, power);
  requireNumber('settings.exchangeAboveD', s.exchangeAboveD, power);
  requireNumber('settings.leastTurnDeg', s.leastTurnDeg, angle);
  requireNumber('settings.seenAxisSdDeg', s.seenAxisSdDeg, angle);
  requireNumber('settings.cylinderSdD', s.cylinderSdD, power);
  return s;
}
