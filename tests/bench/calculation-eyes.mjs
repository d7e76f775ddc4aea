/** Deterministic eyes for the bench: high oblique cylinders, every axis, both forms. */
export function makeEyes(count) {
  const next = numbers(20260101);
  const between = (min, max) => min + (max - min) * next();
  return Array.from({ length: count }, () => {
    const flatD = between(42, 52);
    return {
      refraction: {
        sphereD: between(-16, 2),
        cylinderD: between(-7, 3),
        axisDeg: between(0, 180),
        vertexMm: between(10, 14),
      },
      keratometry: { flatD, steepD: flatD + between(0, 8), steepAxisDeg: between(0, 180), index: 1.3375 },
      target: { sphereD: between(-1, 0), cylinderD: between(-0.5, 0), axisDeg: between(0, 180) },
      anteriorChamberDepthMm: between(2.8, 3.8),
      cornealThicknessUm: between(400, 560),
      lensPlaneOffsetMm: 0.6,
    };
  });
}

/** Park and Miller's minimal generator: the same eyes on every machine. */
function numbers(seed) {
  let state = seed;
  return () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
}

/** A lens that could be ordered, near the ideal one: half dioptres and whole degrees. */
export function orderable({ sphereD, cylinderD, axisDeg }) {
  return {
    sphereD: Math.round(sphereD * 2) / 2,
    cylinderD: Math.round(cylinderD * 2) / 2,
    axisDeg: Math.round(axisDeg) % 180,
  };
}
