/** Made-up results for the specs of figures: any number of eyes, another set for every seed. */
import {
  arrivalQuantile,
  averageVault,
  forecastArrival,
  funnelLimits,
  leaveOneOutVault,
  outcomeReport,
  prequentialVault,
  productLimit,
  restrictedMeanDays,
  PUBLISHED_VAULT_MODELS,
  standingVault,
  wilsonInterval,
  type OutcomeEye,
  type VaultModel,
  type VaultObservation,
} from '@lensferry/calculation';
import type {
  FunnelPoint,
  MakerScorecard,
  MakerScorecards,
  ModelCheck,
  OutcomeReport,
  VaultLearning,
} from '@lensferry/contracts';
import de from '../i18n/de';
import en from '../i18n/en';
import { dateFormatOf } from '../shared/format/dates';
import { numberFormatOf } from '../shared/format/numbers';
import type { figures } from './figure-registry';
import type { Say } from './say';

/** Words as the dictionary has them, with values filled in. @throws for a key that it lacks. */
export const sayIn = (locale: 'en' | 'de'): Say => ({
  format: { ...numberFormatOf(locale), date: dateFormatOf(locale) },
  t: (key, values = {}) => {
    const found = key
      .split('.')
      .reduce<unknown>((tree, part) => (tree as Record<string, unknown>)?.[part], { en, de }[locale]);
    if (typeof found !== 'string') throw new Error(`The dictionary lacks ${key}.`);
    const plural = found.split('||||').map((text) => text.trim());
    const text = (values['smart_count'] === 1 ? plural[0] : plural.at(-1)) ?? '';
    return text.replace(/%\{(\w+)\}/g, (_, name: string) => String(values[name]));
  },
});

function numbersFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
}

function eyesOf(n: number, seed: number): OutcomeEye[] {
  const next = numbersFrom(seed);
  const between = (low: number, high: number): number => low + next() * (high - low);
  const quarter = (value: number): number => Math.round(value * 4) / 4;
  return Array.from({ length: n }, (_, i) => ({
    id: `eye-${i}`,
    patient: `patient-${i >> 1}`,
    before: {
      refraction: {
        sphereD: quarter(between(-12, -4)),
        cylinderD: quarter(between(-7, -2.5)),
        axisDeg: Math.round(between(0, 179)),
        vertexMm: 12,
      },
      correctedLogMar: Math.round(between(0, 4)) / 10,
      uncorrectedLogMar: 1.3,
    },
    target: { sphereD: 0, cylinderD: 0, axisDeg: 0 },
    visits: [2, 30, 91, 365].map((daysAfter) => ({
      daysAfter,
      refraction: {
        sphereD: quarter(between(-1, 0.75)),
        cylinderD: quarter(between(-1.5, 0)),
        axisDeg: Math.round(between(0, 179)),
        vertexMm: 12,
      },
      correctedLogMar: Math.round(between(-1, 3)) / 10,
      uncorrectedLogMar: Math.round(between(0, 5)) / 10,
      vaultUm: Math.round(between(150, 900)),
    })),
  }));
}

function reportOf(n: number, seed: number): OutcomeReport {
  const none = { clinic: [], surgeon: [], maker: [], design: [], procedure: [] };
  return {
    figures: outcomeReport(eyesOf(n, seed), { minimumDays: 28 }) as OutcomeReport['figures'],
    choices: none,
    references: {
      withinHalfD: 0.8,
      withinOneD: 0.9,
      lostALine: 0.1,
      followUpMonthsAtLeast: 12,
      vaultBand: { lowBelowUm: 250, highAboveUm: 750 },
      source: 'common practice, no source',
    },
    cautions: [],
  };
}

const model = PUBLISHED_VAULT_MODELS[0] as VaultModel;

function vaultsOf(n: number, seed: number): VaultObservation[] {
  const next = numbersFrom(seed);
  return Array.from({ length: n }, (_, i) => {
    const sulcusMm = 11.3 + next();
    const eye = { sulcusMm, verticalSulcusMm: sulcusMm + 0.4, lensThicknessMm: 3.5 + next() / 2 };
    return {
      clinic: i % 3 === 0 ? 'North' : 'South',
      eye,
      lengthMm: 12 + Math.round(next() * 4) / 4,
      vaultUm: 200 + 600 * next(),
    };
  });
}

function learningOf(n: number, seed: number): VaultLearning {
  const seen = vaultsOf(n, seed);
  const check = n < 2 ? null : leaveOneOutVault(model, seen);
  return {
    designCode: 'AB-ONE',
    designName: 'One',
    makerName: 'A maker',
    model: { ...model },
    n,
    leftOut: 1,
    afterDays: n === 0 ? null : { median: 31, min: 28 },
    coefficients: [],
    pooled: null,
    leaveOneOut: check && {
      learnedErrorUm: check.learnedErrorUm,
      startErrorUm: check.startErrorUm,
      coverage: check.coverage,
      points: check.eyes.map(({ vaultUm, ...one }, i) => ({
        caseId: `case-${i}`,
        caseCode: `C-${i}`,
        eye: 'OD' as const,
        clinic: 'South',
        lengthMm: seen[i]?.lengthMm ?? 12,
        predictedUm: vaultUm,
        measuredUm: one.measuredUm,
        lowUm: one.lowUm,
        highUm: one.highUm,
        startUm: one.startUm,
      })),
    },
    prequential: null,
  };
}

function checkOf(n: number, seed: number): ModelCheck {
  const seen = vaultsOf(n, seed);
  const { learnedErrorUm, coverage } = prequentialVault(model, seen);
  const other = { ...model, version: '2', interceptUm: model.interceptUm + 40 + seed };
  return {
    eyes: n,
    upTo: '2026-03-04',
    how: 'prequential',
    before: standingVault(model, seen),
    after: { errorUm: learnedErrorUm, coverage },
    lengths: [11.75, 12, 12.25, 12.5].map((lengthMm) => ({
      lengthMm,
      before: averageVault(model, lengthMm),
      after: averageVault(other, lengthMm),
    })),
  };
}

function scoresOf(n: number, seed: number): MakerScorecards {
  const next = numbersFrom(seed);
  const sizes = n < 2 ? [n] : [Math.ceil(n * 0.6), Math.floor(n * 0.4), 0];
  const counts = sizes.map((size) => ({
    size,
    kept: Math.round(size * (0.5 + next() / 2)),
    wrong: Math.round((size * next()) / 5),
    exchanged: Math.round((size * next()) / 4),
  }));
  const pooled = (of: 'kept' | 'wrong' | 'exchanged') => {
    const count = counts.reduce((sum, one) => sum + one[of], 0);
    return n === 0 ? null : wilsonInterval(count, n);
  };
  const overall = {
    promiseKept: pooled('kept'),
    labelMismatch: pooled('wrong'),
    exchanged: pooled('exchanged'),
  };
  const point = (count: number, size: number, all: { share: number } | null): FunnelPoint =>
    size === 0 || all === null
      ? { share: null, limits95: null, limits998: null, standing: 'too-few' }
      : {
          share: wilsonInterval(count, size),
          limits95: funnelLimits(all.share, size, 0.95),
          limits998: funnelLimits(all.share, size, 0.998),
          standing: 'within',
        };
  return {
    overall,
    sentFrom: n === 0 ? null : '2025-01-02',
    sentTo: n === 0 ? null : '2026-03-04',
    items: counts.map(({ size, kept, wrong, exchanged }, i): MakerScorecard => ({
      id: `maker-${i}`,
      name: `Maker ${'ABC'[i] ?? ''}`,
      sent: size,
      arrived: size,
      sentFrom: size === 0 ? null : '2025-01-02',
      sentTo: size === 0 ? null : '2026-03-04',
      leadTimes: null,
      promiseKept: point(kept, size, overall.promiseKept),
      labelMismatch: point(wrong, size, overall.labelMismatch),
      exchanged: point(exchanged, size, overall.exchanged),
      exchangeReasons: [],
      creditsOutstanding: [],
    })),
  };
}

function makerOf(n: number, seed: number): MakerScorecard {
  const [maker] = scoresOf(Math.max(n, 1), seed).items as [MakerScorecard];
  if (n === 0) return { ...maker, sentFrom: null, sentTo: null };
  const next = numbersFrom(seed);
  const records = Array.from({ length: n }, (_, i) => ({
    workingDays: 12 + Math.round(30 * next()),
    outcome: i % 7 === 3 ? ('open' as const) : ('arrived' as const),
    acknowledged: true,
  }));
  const curve = productLimit(records);
  const forecast = forecastArrival(records, { workingDays: 25 }, 0);
  const open = records.filter(({ outcome }) => outcome === 'open').length;
  return {
    ...maker,
    leadTimes: {
      curve: {
        orders: curve.orders,
        arrivals: curve.arrivals,
        open,
        cancelled: 0,
        medianDays: arrivalQuantile(curve, 0.5),
        ninetyPercentDays: arrivalQuantile(curve, 0.9),
        restrictedMeanDays: restrictedMeanDays(curve),
        lastDay: curve.lastDay,
        steps: curve.steps.map(({ day, atRisk, awaited, low, high }) => ({
          day,
          atRisk,
          arrived: 1 - awaited,
          low: 1 - high,
          high: 1 - low,
        })),
      },
      forecast: {
        quotedWorkingDays: 25,
        points: Array.from({ length: 50 }, (_, day) => ({ day, arrived: forecast.chanceBy(day) })),
      },
    },
  };
}

type Sources = {
  [Key in keyof typeof figures]: (n: number, seed: number) => Parameters<(typeof figures)[Key]>[1];
};

/** What each entry of the registry is drawn from, for so many eyes or orders. */
export const samples: Sources = {
  sight: reportOf,
  refraction: reportOf,
  astigmatism: reportOf,
  learning: learningOf,
  model: (n, seed) => ({
    code: 'AB-ONE',
    name: 'One',
    check: n < 2 ? { ...checkOf(2, seed), lengths: [] } : checkOf(n, seed),
  }),
  makers: scoresOf,
  leadTimes: makerOf,
};
