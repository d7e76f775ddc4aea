/**
 * A sphero-cylinder: sphere and cylinder in dioptres, axis in degrees from 0 to 180 in the
 * standard notation (counter-clockwise from the observer's right as one faces the eye).
 * Accepted in plus or minus cylinder form; given back in minus form with 0 ≤ axis < 180,
 * and axis 0 where the cylinder is 0.
 */
export interface SphereCylinder {
  readonly sphereD: number;
  readonly cylinderD: number;
  readonly axisDeg: number;
}

/** A refraction and the distance in millimetres from the cornea to the plane it was measured in. */
export interface Refraction extends SphereCylinder {
  readonly vertexMm: number;
}

/**
 * Corneal powers in dioptres and the meridian of the highest power in degrees.
 * `index` is the keratometric index of the reading (1.3375 on most devices); left out, the
 * powers are used as given.
 */
export interface Keratometry {
  readonly flatD: number;
  readonly steepD: number;
  readonly steepAxisDeg: number;
  readonly index?: number | undefined;
}

/** What the optics need to know of one phakic eye. */
export interface PhakicEye {
  readonly refraction: Refraction;
  readonly keratometry: Keratometry;
  /** Refraction to end with, at the same spectacle plane as `refraction`; plano when left out. */
  readonly target?: SphereCylinder | undefined;
  /** Central depth in millimetres from the corneal endothelium to the crystalline lens. */
  readonly anteriorChamberDepthMm: number;
  readonly cornealThicknessUm: number;
  /** How far the lens plane lies in front of the crystalline lens, in millimetres; 0.6 when left out. */
  readonly lensPlaneOffsetMm?: number | undefined;
}

/**
 * Thibos' power vector in dioptres: mean power and the two components of the cylinder.
 * A symmetric dioptric power matrix holds the same three numbers: [[M + J0, J45], [J45, M - J0]].
 * @source Thibos, Wheeler, Horner. Optom Vis Sci 1997;74:367-375
 */
export interface PowerVector {
  readonly meanD: number;
  readonly j0D: number;
  readonly j45D: number;
}

/** A power vector that a function writes its answer into. */
export interface MutablePowerVector {
  meanD: number;
  j0D: number;
  j45D: number;
}
