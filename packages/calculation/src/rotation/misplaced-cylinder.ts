import { requireNumber } from '../calculation-error.js';
import { ANY_POWER } from '../optics/ranges.js';

/**
 * Cylinder in D, 0 or more, that a lens of the right cylinder leaves when it lies off its axis:
 * 2 |C| sin θ, with the spherical equivalent unchanged. About a third at 10°, all of it at 30°.
 * Throws CalculationError for an angle outside -90 to 90 degrees.
 * @source Felipe et al. J Cataract Refract Surg
 * @example misplacedCylinderD(-4, 15) // 2.071
 */
export function misplacedCylinderD(cylinderD: number, offDeg: number): number {
  requireNumber('cylinderD', cylinderD, ANY_POWER);
  requireNumber('offDeg', offDeg, { min: -90, max: 90, unit: 'degrees' });
  return 2 * Math.abs(cylinderD) * Math.sin((Math.abs(offDeg) * Math.PI) / 180);
}
