import { emptyVector, fromComponents, normalAxisDeg, writeVectorOf } from './power-vector.js';
import { requireSphereCylinder } from './ranges.js';
import type { SphereCylinder } from './types.js';

/**
 * The same power in minus cylinder form, 0 ≤ axis < 180; a cylinder of 0 gets axis 0.
 * Throws CalculationError for a number that is not finite or an axis outside 0 to 180.
 * @source transposition: S + C, -C, axis ± 90°, as any textbook of optics
 * @example minusForm({ sphereD: -12, cylinderD: 4, axisDeg: 120 }) // -8.00 / -4.00 x 30
 */
export function minusForm(value: SphereCylinder): SphereCylinder {
  requireSphereCylinder('', value);
  return value.cylinderD > 0 ? transposed(value) : tidy(value);
}

/**
 * The same power in plus cylinder form, 0 ≤ axis < 180; a cylinder of 0 gets axis 0.
 * Throws CalculationError for a number that is not finite or an axis outside 0 to 180.
 * @source transposition: S + C, -C, axis ± 90°, as any textbook of optics
 * @example plusForm({ sphereD: -8, cylinderD: -4, axisDeg: 30 }) // -12.00 / +4.00 x 120
 */
export function plusForm(value: SphereCylinder): SphereCylinder {
  requireSphereCylinder('', value);
  return value.cylinderD < 0 ? transposed(value) : tidy(value);
}

/**
 * The one sphero-cylinder that two thin ones make together at any axes (obliquely crossed
 * cylinders), in minus form. Throws CalculationError as `minusForm` does.
 * @source Long. Am J Optom Physiol Opt 1976;53:27-33; Thibos et al. Optom Vis Sci 1997;74:367-375
 * @example addCrossed({ sphereD: 0, cylinderD: -2, axisDeg: 180 }, { sphereD: 0, cylinderD: -2, axisDeg: 45 })
 * // -0.586 / -2.828 x 22.5
 */
export function addCrossed(first: SphereCylinder, second: SphereCylinder): SphereCylinder {
  return combined(first, second, 1);
}

/**
 * What must be added to `second` to make `first`, at any axes, in minus form: the difference of two
 * refractions. Throws CalculationError as `minusForm` does.
 * @source Long. Am J Optom Physiol Opt 1976;53:27-33; Thibos et al. Optom Vis Sci 1997;74:367-375
 * @example subtractCrossed({ sphereD: -8, cylinderD: -4, axisDeg: 30 }, { sphereD: -0.25, cylinderD: -0.75, axisDeg: 45 })
 * // -7.689 / -3.371 x 26.81
 */
export function subtractCrossed(first: SphereCylinder, second: SphereCylinder): SphereCylinder {
  return combined(first, second, -1);
}

function combined(first: SphereCylinder, second: SphereCylinder, sign: 1 | -1): SphereCylinder {
  requireSphereCylinder('first', first);
  requireSphereCylinder('second', second);
  const a = writeVectorOf(first, emptyVector());
  const b = writeVectorOf(second, emptyVector());
  return fromComponents(a.meanD + sign * b.meanD, a.j0D + sign * b.j0D, a.j45D + sign * b.j45D);
}

function transposed(value: SphereCylinder): SphereCylinder {
  return {
    sphereD: value.sphereD + value.cylinderD + 0,
    cylinderD: -value.cylinderD,
    axisDeg: normalAxisDeg(value.axisDeg + 90),
  };
}

function tidy(value: SphereCylinder): SphereCylinder {
  const none = value.cylinderD === 0;
  return {
    sphereD: value.sphereD + 0,
    cylinderD: value.cylinderD + 0,
    axisDeg: none ? 0 : normalAxisDeg(value.axisDeg),
  };
}
