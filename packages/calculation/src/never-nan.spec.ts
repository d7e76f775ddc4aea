import { describe, expect, it } from 'vitest';
import * as calculation from './index.js';
import { CalculationError } from './index.js';
import * as optics from './optics/index.js';
import * as plan from './plan/index.js';
import * as rotation from './rotation/index.js';
import * as sizing from './sizing/index.js';
import * as suitability from './suitability-numbers/index.js';
import * as uncertainty from './uncertainty/index.js';

const sc = { sphereD: -8, cylinderD: -4, axisDeg: 30 };
const eye = {
  refraction: { ...sc, vertexMm: 12 },
  keratometry: { flatD: 46, steepD: 50, steepAxisDeg: 130, index: 1.3375 },
  target: { sphereD: -0.5, cylinderD: -0.25, axisDeg: 170 },
  anteriorChamberDepthMm: 3.1,
  cornealThicknessUm: 500,
  lensPlaneOffsetMm: 0.6,
};
const range = {
  sphere: { minD: -18, maxD: 0, stepD: 0.5 },
  cylinder: { minD: -8, maxD: 0, stepD: 0.5 },
  axis: { policy: 'fixed', axesDeg: [0, 90], maximumTurnDeg: 45 },
};
const sizingEye = {
  whiteToWhiteMm: 11.7,
  sulcusMm: 11.6,
  verticalSulcusMm: 12,
  angleToAngleMm: 11.8,
  lensRiseUm: 100,
  lensThicknessMm: 3.7,
  anteriorChamberDepthMm: 3.1,
  kmaxD: 55,
  coneDistanceMm: 0.5,
};
const model = { ...calculation.PUBLISHED_VAULT_MODELS[0], withinEyeCorrelation: 0.8 };
const settings = calculation.DEFAULT_SIZING_SETTINGS;
const lengthsMm = [12, 12.5, 13];
const noise = { meanD: 0.65, j0D: 0.29, j45D: 0.24 };
const spreads = calculation.DEFAULT_SPREADS;
const visit = { vaultUm: 500, daysSinceSurgery: 40 };

/** A call of each public function that works, so that breaking any one number of it must be refused. */
const CALLS: [keyof typeof calculation, unknown[]][] = [
  ['idealLens', [eye]],
  ['predictedRefraction', [eye, sc, 40]],
  ['prepareEye', [eye]],
  ['rankLenses', [eye, range, { windowD: 1, count: 3, misplacementDeg: 5, unseenCylinderD: 0.1 }]],
  ['lensRangeGaps', [sc, range]],
  ['powerToleranceD', [-18]],
  ['meanRefraction', [[sc, sc]]],
  ['spreadEllipse', [0.04, 0.01, 0.02]],
  ['minusForm', [sc]],
  ['plusForm', [sc]],
  ['addCrossed', [sc, sc]],
  ['subtractCrossed', [sc, sc]],
  ['vertexStep', [sc, 12]],
  ['powerVector', [sc]],
  ['sphereCylinder', [noise]],
  ['blurD', [noise]],
  ['sphericalEquivalentD', [sc]],
  ['normalAxisDeg', [200]],
  ['turnDeg', [10, 20]],
  ['powerMatrix', [sc]],
  ['fromPowerMatrix', [{ xxD: 1, xyD: 0.5, yyD: 2 }]],
  ['cornealPower', [eye.keratometry]],
  ['lensDistanceMm', [{ anteriorChamberDepthMm: 3, cornealThicknessUm: 500, lensPlaneOffsetMm: 0.6 }]],
  ['depthFromEndotheliumMm', [3.6, 500]],
  ['expectedOutcome', [eye, sc, spreads, { samples: 8, seed: 1, cloudCount: 2, refractionCount: 2 }]],
  ['firstOrderOutcome', [eye, sc, spreads, { refractionCount: 2 }]],
  ['normalBelow', [1]],
  ['normalDensity', [1]],
  ['normalQuantile', [0.5]],
  ['sobolPoints', [8, 2, 1]],
  ['suggestSize', [sizingEye, { lengthsMm, model, settings }]],
  ['predictVaultUm', [{ sulcusMm: 11.6, verticalSulcusMm: 12, lensThicknessMm: 3.7 }, 12.5, model]],
  ['vaultForecast', [500, 176, { lowBelowUm: 250, highAboveUm: 750 }, { low: 1, high: 1 }]],
  ['judgeVault', [visit, calculation.DEFAULT_VAULT_JUDGEMENT]],
  ['vaultTrend', [[visit, { vaultUm: 480, daysSinceSurgery: 400 }], { visitSdUm: 50, leastDays: 60 }]],
  ['exchangeSize', [{ currentLengthMm: 13, measuredUm: [900], lengthsMm, eye: sizingEye, model, settings }]],
  [
    'judgeCompanion',
    [
      0.3,
      {
        price: 1500,
        companionPrice: 1400,
        restockingShare: 0.2,
        explantedCreditShare: 0.5,
        secondOperation: 1200,
        waiting: 600,
        seenInTheatreShare: 0.25,
        fromChance: 0.1,
      },
    ],
  ],
  ['companionLengthMm', [[12, 12.5, 13], 13]],
  [
    'bestRotation',
    [
      {
        lens: sc,
        seenAxisDeg: 45,
        refraction: { ...sc, vertexMm: 12 },
        target: sc,
        eye: { ...eye, refraction: undefined, target: undefined },
        settings: calculation.DEFAULT_ROTATION_SETTINGS,
      },
    ],
  ],
  ['misplacedCylinderD', [-4, 10]],
  ['exchangePower', [eye, sc, 40]],
  [
    'explainSurprise',
    [
      {
        eyeBefore: eye,
        lens: sc,
        plannedAxisDeg: 30,
        seenAxisDeg: 40,
        refractionLeft: { sphereD: 0, cylinderD: -1, axisDeg: 10 },
        expectedVaultUm: 500,
        measuredVaultUm: 700,
        unexplainedUpToD: 0.75,
      },
    ],
  ],
  ['refractionChange', [sc, sc, noise, [1, 2]]],
  [
    'refractionStability',
    [
      [
        { day: 0, refraction: sc },
        { day: 300, refraction: sc },
      ],
      noise,
      { leastDays: 180, mustDetect: 2 },
    ],
  ],
  [
    'readingStability',
    [
      [
        { day: 0, value: 50 },
        { day: 300, value: 51 },
      ],
      1.23,
      { leastDays: 180, mustDetect: 2 },
    ],
  ],
  [
    'axisAgreement',
    [
      { ...sc, vertexMm: 12 },
      eye.keratometry,
      { refractionNoise: noise, keratometryNoise: noise, mattersFromD: 1, axisFromD: 0.75 },
    ],
  ],
  ['chiSquare3Above', [3]],
  ['cornealPowerFactor', [{ index: 1.3375 }]],
  ['isWithTheRule', [sc]],
  ['requireVaultModel', [model]],
  ['requireSizingEye', [sizingEye]],
  ['requireBands', [{ lowBelowUm: 250, highAboveUm: 750 }]],
  ['requireNoise', [noise]],
  ['sizingSettings', [settings]],
  ['expectedLinesLost', [{ spectaclesLogMar: 0.3, contactLensLogMar: 0 }]],
  [
    'planEye',
    [{ id: 'A', eye: 'OD', ...eye, ...sizingEye, verticalSulcusMm: undefined, lens: sc, sizesMm: lengthsMm }],
  ],
];

/** Every place in a value that holds a number, as a path of keys. */
function numberPaths(value: unknown, path: (string | number)[] = []): (string | number)[][] {
  if (typeof value === 'number') return [path];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => numberPaths(inner, [...path, key]));
}

function withAt(value: unknown, path: (string | number)[], put: unknown): unknown {
  const [key, ...rest] = path;
  if (key === undefined) return put;
  const copy = (Array.isArray(value) ? [...value] : { ...(value as object) }) as Record<
    string | number,
    unknown
  >;
  copy[key] = withAt(copy[key], rest, put);
  return copy;
}

function allFinite(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  if (typeof value !== 'object' || value === null) return true;
  return Object.values(value).every(allFinite);
}

describe('a number that is none', () => {
  it.each(CALLS)('is refused by %s wherever it stands', (name, args) => {
    const run = calculation[name] as (...all: unknown[]) => unknown;
    expect(allFinite(run(...args))).toBe(true);
    const paths = numberPaths(args);
    expect(paths.length).toBeGreaterThan(0);
    const passed: string[] = [];
    for (const path of paths) {
      for (const bad of [NaN, '7']) {
        try {
          run(...(withAt(args, path, bad) as unknown[]));
          passed.push(`${path.join('.')} = ${JSON.stringify(bad)}`);
        } catch (error) {
          if (!(error instanceof CalculationError)) throw error;
          expect([error.field, error.range, error.message]).not.toContain('');
        }
      }
    }
    expect(passed).toEqual([]);
  });

  it('is looked for in every public function of these folders that takes numbers', () => {
    const called = new Set<string>(CALLS.map(([name]) => name));
    const folders = [optics, uncertainty, sizing, rotation, suitability, plan];
    const left = folders
      .flatMap((folder) => Object.entries(folder))
      .filter(([name, value]) => typeof value === 'function' && !called.has(name))
      .map(([name]) => name);
    // These take texts, name things, or answer bad input with a plan that says so: tested beside the code.
    expect(left.sort()).toEqual([
      'UnreadableFile',
      'csvLine',
      'keratometricConversion',
      'missingInputs',
      'parseCsv',
      'planFile',
      'planList',
      'readPlanInput',
    ]);
  });
});
