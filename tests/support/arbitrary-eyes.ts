import fc from 'fast-check';
import type { PhakicEye, SphereCylinder } from '../../packages/calculation/src/index.js';

const number = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true, noDefaultInfinity: true });

/** Sphero-cylinders in either form, axes from 0 to 180. */
export const sphereCylinders: fc.Arbitrary<SphereCylinder> = fc.record({
  sphereD: number(-20, 10),
  cylinderD: number(-8, 8),
  axisDeg: number(0, 180),
});

/** Eyes that a phakic lens could be planned for: myopic and hyperopic, every axis free. */
export const phakicEyes: fc.Arbitrary<PhakicEye> = fc
  .record({
    sphereD: number(-20, 8),
    cylinderD: number(-8, 8),
    axisDeg: number(0, 180),
    vertexMm: number(8, 16),
    flatD: number(38, 55),
    toricD: number(0, 10),
    steepAxisDeg: number(0, 180),
    index: fc.constantFrom(undefined, 1.3375, 1.332),
    target: fc.option(
      fc.record({ sphereD: number(-2, 1), cylinderD: number(-1, 1), axisDeg: number(0, 180) }),
      { nil: undefined },
    ),
    anteriorChamberDepthMm: number(2.6, 4),
    cornealThicknessUm: number(350, 620),
    lensPlaneOffsetMm: fc.constantFrom(undefined, 0, 0.4, 0.8),
  })
  .map(({ sphereD, cylinderD, axisDeg, vertexMm, flatD, toricD, steepAxisDeg, index, ...rest }) => ({
    refraction: { sphereD, cylinderD, axisDeg, vertexMm },
    keratometry: { flatD, steepD: flatD + toricD, steepAxisDeg, index },
    ...rest,
  }));

/** The same eye with everything in it turned by `byDeg`. */
export function turnedEye(eye: PhakicEye, byDeg: number): PhakicEye {
  const turn = <T extends { axisDeg: number }>(value: T): T => ({
    ...value,
    axisDeg: (((value.axisDeg + byDeg) % 180) + 180) % 180,
  });
  return {
    ...eye,
    refraction: turn(eye.refraction),
    keratometry: {
      ...eye.keratometry,
      steepAxisDeg: (((eye.keratometry.steepAxisDeg + byDeg) % 180) + 180) % 180,
    },
    target: eye.target === undefined ? undefined : turn(eye.target),
  };
}
