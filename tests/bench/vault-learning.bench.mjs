/** How well vault learning does in a simulated world whose truth is known; the assumptions are printed first. */
import { DEFAULT_WORLD, simulateVaultLearning } from '@lensferry/calculation';

export const need = ['packages'];

const NETWORKS = 20;
const TESTED = 1000;
const WANTED_AFTER = 200;

/** Prints the assumptions and what came of them, and returns whether every promise was kept. */
export async function run(say) {
  sayAssumptions(say);
  let kept = true;
  for (const learnFrom of [0, 20, 50, 100, WANTED_AFTER, 500]) {
    const found = averageOf(learnFrom);
    say(lineOf(learnFrom, found));
    if (learnFrom === WANTED_AFTER) kept = judge(say, found);
  }
  return kept;
}

function sayAssumptions(say) {
  const w = DEFAULT_WORLD;
  const model = ({ interceptUm, coefficients }) =>
    [
      String(interceptUm),
      ...Object.entries(coefficients).map(([field, value]) => `${value} × ${field}`),
    ].join(' + ');
  say('Assumptions of the simulation:');
  say(`  truth: vault µm = ${model(w.truth)}, spread ${w.truth.residualSdUm} µm (${w.truth.source})`);
  say(
    `  start: vault µm = ${model(w.start)}, believed spread ${w.start.residualSdUm} µm (put wrong on purpose)`,
  );
  say(`  ${w.clinics} clinics whose vaults differ by ${w.clinicSdUm} µm (one standard deviation)`);
  say(
    `  sulcus ${w.sulcusMm.mean} ± ${w.sulcusMm.sd} mm; vertical ${w.verticalLessHorizontalMm.mean} ± ${w.verticalLessHorizontalMm.sd} mm wider; lens thickness ${w.lensThicknessMm.mean} ± ${w.lensThicknessMm.sd} mm`,
  );
  say(
    `  white-to-white about the sulcus ± ${w.whiteToWhiteAboutSulcusSdMm} mm (95 % within 1.11 mm, PMC2649749)`,
  );
  say(
    `  learning eyes have the start's size, a step shorter in ${w.strayShare * 100} % and longer in ${w.strayShare * 100} %`,
  );
  say(
    `  naive rule: white-to-white plus ${w.naiveAllowanceMm} mm, nearest of ${w.lengthsMm.length} lengths in 0.25 mm steps`,
  );
  say(`  ${NETWORKS} networks, each tried on ${TESTED} eyes that it has not seen, sized by its own model`);
}

function averageOf(learnFrom) {
  const runs = Array.from({ length: NETWORKS }, (_, seed) =>
    simulateVaultLearning({ ...DEFAULT_WORLD, seed: seed + 1 }, learnFrom, TESTED),
  );
  const mean = (of) => runs.reduce((sum, each) => sum + of(each), 0) / runs.length;
  return {
    error: mean(({ errorUm }) => errorUm.learned),
    truthError: mean(({ errorUm }) => errorUm.truth),
    startError: mean(({ errorUm }) => errorUm.start),
    worstRatio: Math.max(...runs.map(({ errorUm }) => errorUm.learned / errorUm.truth)),
    within90: mean((each) => each.within90),
    width: mean((each) => each.width90Um),
    naive: mean(({ outsideBand }) => outsideBand.naive),
    start: mean(({ outsideBand }) => outsideBand.start),
    learned: mean(({ outsideBand }) => outsideBand.learned),
    truth: mean(({ outsideBand }) => outsideBand.truth),
  };
}

const percent = (share) => `${(100 * share).toFixed(1)} %`;

function lineOf(learnFrom, f) {
  return (
    `after ${learnFrom} eyes: error ${f.error.toFixed(0)} µm (truth ${f.truthError.toFixed(0)}, start ${f.startError.toFixed(0)}), ` +
    `90 % interval ${f.width.toFixed(0)} µm wide holds ${percent(f.within90)}; outside the band: naive ${percent(f.naive)}, ` +
    `start ${percent(f.start)}, learned ${percent(f.learned)}, truth ${percent(f.truth)}`
  );
}

function judge(say, f) {
  const promises = [
    [
      `error ${(100 * (f.error / f.truthError - 1)).toFixed(1)} % above the truth's (worst network ${(100 * (f.worstRatio - 1)).toFixed(1)} %, at most 10 % wanted)`,
      f.worstRatio <= 1.1,
    ],
    [
      `90 % intervals hold ${percent(f.within90)} (87 to 93 % wanted)`,
      f.within90 >= 0.87 && f.within90 <= 0.93,
    ],
    [
      `eyes outside the band cut by ${percent(1 - f.learned / f.naive)} against the naive rule (a third wanted)`,
      f.learned <= (2 / 3) * f.naive,
    ],
  ];
  for (const [words, good] of promises) say(`  ${good ? '✓' : '✗'} ${words}`);
  return promises.every(([, good]) => good);
}
