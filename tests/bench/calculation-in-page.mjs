/** Runs inside the browser: one full plan, timed again and again with other numbers each time. */
import { expectedOutcome, idealLens, rankLenses, suggestSize } from '@lensferry/calculation';

const RANGE = {
  sphere: { minD: -23, maxD: 3, stepD: 0.25 },
  cylinder: { minD: -10, maxD: 0, stepD: 0.25 },
  axis: { policy: 'any', stepDeg: 1 },
};
const LENGTHS_MM = Array.from({ length: 13 }, (_, i) => 11.5 + i * 0.25);

globalThis.timePlans = (count) => {
  const times = [];
  for (let i = 0; i < count; i += 1) {
    const start = performance.now();
    onePlan(i);
    times.push(performance.now() - start);
  }
  const [firstMs, ...later] = times;
  later.sort((a, b) => a - b);
  return { firstMs, medianMs: later[Math.floor(later.length / 2)], worstMs: later.at(-1) };
};

/** Choice among all steps near the ideal, 2,000 samples of the best, and all sizes with their vaults. */
function onePlan(i) {
  const eye = {
    refraction: { sphereD: -8 - (i % 20) / 10, cylinderD: -4, axisDeg: (i * 7) % 180, vertexMm: 12 },
    keratometry: { flatD: 46, steepD: 50, steepAxisDeg: (100 + i * 7) % 180, index: 1.3375 },
    anteriorChamberDepthMm: 3.1,
    cornealThicknessUm: 480,
  };
  const ranked = rankLenses(eye, RANGE);
  const outcome = expectedOutcome(eye, ranked[0]?.lens ?? idealLens(eye), undefined, {
    samples: 2000,
    // Another seed each time: nothing of the plan before may be reused.
    seed: i,
  });
  const size = suggestSize({ sulcusMm: 11.6, kmaxD: 55, coneDistanceMm: 1.4 }, { lengthsMm: LENGTHS_MM });
  if (ranked.length !== 12 || outcome.samples !== 2000 || size.sizes.length !== 13) {
    throw new Error('The plan of the bench is not whole.');
  }
}
