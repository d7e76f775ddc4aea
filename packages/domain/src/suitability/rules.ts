import {
  latestOf,
  monthsBetween,
  stabilisedOn,
  type GatheredEye,
  type MeasurementFacts,
} from '../measurements/gather.js';
import { powerVector } from '@lensferry/calculation';
import type { Limits } from '../limits.js';

/** What a rule says: never a verdict on the eye, always something a surgeon can check. */
export interface Finding {
  readonly code: string;
  readonly level: 'fine' | 'caution' | 'stop';
  /** The value, the threshold and what to do, in one or two sentences. */
  readonly message: string;
  /** The sentence and the values in it, for a screen of another language: `say` is stable within its code. */
  readonly facts: FindingFacts;
  /** Where the threshold comes from. */
  readonly source: string;
}

/** Which sentence of a rule was said, and the values that stand in it, rounded as they are said. */
export type FindingFacts = Readonly<Record<string, string | number>> & { readonly say: string };

/** What the rules look at. */
export interface SuitabilityFacts {
  readonly eye: GatheredEye;
  readonly measurements: readonly MeasurementFacts[];
  readonly birthYear: number;
  /** ISO plain date at the clinic. */
  readonly today: string;
  readonly settings: Limits;
  /** The plan is for an exchange: the eye has been judged fit before. */
  readonly exchange: boolean;
}

interface Rule {
  readonly code: string;
  readonly source: string;
  readonly judge: (facts: SuitabilityFacts) => Omit<Finding, 'code' | 'source'> | null;
}

const practice = 'common practice, no source';
type Values = Record<string, string | number>;
/** A level's sentence; `say` tells apart the sentences that a rule has at one level. */
const sayer =
  <Level extends Finding['level']>(level: Level) =>
  (message: string, values: Values = {}, say: string = level) => ({
    level,
    message,
    facts: { ...values, say },
  });
const fine = sayer('fine');
const caution = sayer('caution');
const stop = sayer('stop');

/** Acuity in metres over six, as charts print it: 0.5 is 6/12. */
export function sixOver(decimal: number): string {
  return `6/${Number((6 / decimal).toPrecision(2))}`;
}

const daysBetween = (from: string, to: string): number =>
  Math.round((Date.parse(to) - Date.parse(from)) / 86_400_000);

/** How far apart two axes are, 0 to 90 degrees. */
function axisGap(a: number, b: number): number {
  const gap = Math.abs(a - b) % 180;
  return Math.min(gap, 180 - gap);
}

/**
 * Suitability as a list of rules. Each gives *fine*, *caution* or *stop* with its value, threshold and advice, or
 * nothing where it does not apply. A surgeon may go on over a stop with a written reason.
 */
export const suitabilityRules: readonly Rule[] = [
  {
    code: 'stable-since',
    source: practice,
    judge: ({ measurements, today, settings }) => {
      const since = stabilisedOn(measurements);
      if (since === null)
        return caution(
          'No stabilising procedure is on record. Enter it, or note why the cornea counts as stable.',
          {},
          'none',
        );
      const months = monthsBetween(since, today);
      if (months < settings.stableMonthsAtLeast)
        return stop(
          `Only ${months} months since the stabilising procedure; at least ${settings.stableMonthsAtLeast} are asked for. Wait and measure again.`,
          { months, least: settings.stableMonthsAtLeast },
        );
      if (months < settings.stableMonthsPreferred)
        return caution(
          `${months} months since the stabilising procedure; ${settings.stableMonthsPreferred} are preferred.`,
          { months, preferred: settings.stableMonthsPreferred },
        );
      return fine(`${months} months since the stabilising procedure.`, { months });
    },
  },
  {
    code: 'refractions-agree',
    source: 'repeatability in keratoconus: Optom Vis Sci 1998;75:887',
    judge: ({ measurements, eye }) => {
      const ids = new Set(eye.measurementIds);
      const all = measurements.filter(({ kind }) => kind === 'refraction');
      const used = all.find(({ id }) => ids.has(id));
      const others = all.filter(
        (other) => used !== undefined && other.id !== used.id && other.takenOn <= used.takenOn,
      );
      const previous = others.sort((a, b) => a.takenOn.localeCompare(b.takenOn)).at(-1);
      if (used === undefined || previous === undefined)
        return caution(
          'Only one refraction. Repeat it on another day: in keratoconus the end point is not sharp.',
          {},
          'one',
        );
      const blur = blurBetween(used, previous);
      const values = { before: previous.takenOn, used: used.takenOn, blur: blur.toFixed(2) };
      const text = `The last two refractions (${previous.takenOn} and ${used.takenOn}) differ by ${blur.toFixed(2)} D of blur`;
      return blur > 1
        ? caution(`${text}, more than 1.00 D. The later one is used, nothing is averaged; repeat it.`, values)
        : fine(`${text}.`, values);
    },
  },
  {
    code: 'axis-agreement',
    source: practice,
    judge: ({ eye }) => {
      const { refraction, keratometry } = eye;
      if (
        refraction.axisDeg === null ||
        refraction.cylinderD > -0.75 ||
        keratometry.steepD - keratometry.flatD < 0.75
      )
        return null;
      // A minus cylinder's axis lies along the flat meridian when refraction and cornea agree.
      const flat = (keratometry.steepAxisDeg + 90) % 180;
      const gap = axisGap(refraction.axisDeg, flat);
      const values = {
        refraction: Math.round(refraction.axisDeg),
        cornea: Math.round(flat),
        gap: Math.round(gap),
      };
      const text = `The axis of the refraction (${Math.round(refraction.axisDeg)}°) and the cornea's flat meridian (${Math.round(flat)}°) differ by ${Math.round(gap)}°`;
      return gap > 10
        ? caution(`${text}. Both are kept, none is averaged: decide which to trust.`, values)
        : fine(`${text}.`, values);
    },
  },
  {
    code: 'spectacle-acuity',
    source: practice,
    judge: ({ measurements, settings, exchange }) => {
      if (exchange) return null;
      const value = numberOf(latestOf(measurements, 'refraction'), 'correctedDecimal');
      if (value === null)
        return caution(
          'Acuity with spectacles is not on record. It is about what the eye will see unaided afterwards.',
          {},
          'none',
        );
      const text = `Acuity with spectacles is ${sixOver(value)}, about what the eye will see unaided afterwards, not better`;
      if (value < settings.acuityStopBelowDecimal)
        return stop(
          `${text}; below ${sixOver(settings.acuityStopBelowDecimal)} other ways to rehabilitate come first.`,
          { acuity: sixOver(value), limit: sixOver(settings.acuityStopBelowDecimal) },
        );
      if (value < settings.acuityCautionBelowDecimal)
        return caution(`${text}; below ${sixOver(settings.acuityCautionBelowDecimal)}.`, {
          acuity: sixOver(value),
          limit: sixOver(settings.acuityCautionBelowDecimal),
        });
      return fine(`${text}.`, { acuity: sixOver(value) });
    },
  },
  {
    code: 'rigid-lens-wear',
    source: practice,
    judge: ({ measurements, exchange }) => {
      const wear = latestOf(measurements, 'lens_wear');
      if (exchange || wear === null || !['rigid', 'scleral', 'hybrid'].includes(String(wear.values['wears'])))
        return null;
      const withLens = numberOf(wear, 'acuityDecimal');
      const withSpectacles = numberOf(latestOf(measurements, 'refraction'), 'correctedDecimal');
      if (withLens === null || withSpectacles === null)
        return caution(
          `Wears ${String(wear.values['wears'])} lenses. Enter the acuity with them, to see what would be lost.`,
          { wears: String(wear.values['wears']) },
          'unknown',
        );
      const lines = Math.round(10 * (Math.log10(withLens) - Math.log10(withSpectacles)));
      return lines >= 1
        ? caution(
            `Sees ${lines} line${lines === 1 ? '' : 's'} more with ${String(wear.values['wears'])} lenses than with spectacles; this lens gives what spectacles give.`,
            { lines, wears: String(wear.values['wears']) },
          )
        : fine('Sees as well with spectacles as with rigid lenses.');
    },
  },
  {
    code: 'cone-place',
    source: practice,
    judge: ({ eye }) => {
      if (eye.coneDistanceMm === null) return null;
      return eye.coneDistanceMm > 1.5
        ? caution(
            `The cone lies ${eye.coneDistanceMm.toFixed(1)} mm off centre. No bar while spectacle acuity is good, but expect irregular blur to stay.`,
            { distance: eye.coneDistanceMm.toFixed(1) },
          )
        : fine(`The cone lies ${eye.coneDistanceMm.toFixed(1)} mm from the centre.`, {
            distance: eye.coneDistanceMm.toFixed(1),
          });
    },
  },
  {
    code: 'kmax',
    source: practice,
    judge: ({ eye, settings }) => {
      if (eye.kmaxD === null) return null;
      const text = `Kmax is ${eye.kmaxD.toFixed(1)} D`;
      return eye.kmaxD >= settings.kmaxCautionD
        ? caution(`${text}, ${settings.kmaxCautionD} D or more.`, {
            kmax: eye.kmaxD.toFixed(1),
            limit: settings.kmaxCautionD,
          })
        : fine(`${text}.`, { kmax: eye.kmaxD.toFixed(1) });
    },
  },
  {
    code: 'depth',
    source: 'depth limits: common practice, each maker’s own instructions come first',
    judge: ({ eye, settings }) => {
      const depth = eye.depthFromEndotheliumMm;
      const text = `Depth from the endothelium is ${depth.toFixed(2)} mm`;
      if (depth < settings.depthStopBelowMm)
        return stop(`${text}, below ${settings.depthStopBelowMm.toFixed(1)} mm.`, {
          depth: depth.toFixed(2),
          limit: settings.depthStopBelowMm.toFixed(1),
        });
      if (depth < settings.depthCautionBelowMm)
        return caution(`${text}, below ${settings.depthCautionBelowMm.toFixed(1)} mm.`, {
          depth: depth.toFixed(2),
          limit: settings.depthCautionBelowMm.toFixed(1),
        });
      return fine(`${text}.`, { depth: depth.toFixed(2) });
    },
  },
  {
    code: 'endothelium',
    source: practice,
    judge: ({ measurements, birthYear, today }) => {
      const cells = numberOf(latestOf(measurements, 'health'), 'endothelialCellsPerMm2');
      if (cells === null) return caution('Endothelial cells were not counted.');
      const age = Number(today.slice(0, 4)) - birthYear;
      const floor = cellFloor(age);
      return cells < floor
        ? stop(`${cells} endothelial cells per mm², below the floor of ${floor} at ${age} years.`, {
            cells,
            floor,
            age,
          })
        : fine(`${cells} endothelial cells per mm²; the floor at ${age} years is ${floor}.`, {
            cells,
            floor,
            age,
          });
    },
  },
  {
    code: 'angle',
    source: practice,
    judge: ({ measurements }) => {
      const grade = numberOf(latestOf(measurements, 'health'), 'angleGrade');
      if (grade === null) return caution('The angle was not graded.');
      return grade < 3
        ? stop(`Angle grade ${grade}; an open angle (3 or more) is asked for.`, { grade })
        : fine(`Angle grade ${grade}: open.`, { grade });
    },
  },
  {
    code: 'age',
    source: practice,
    judge: ({ birthYear, today, settings }) => {
      const age = Number(today.slice(0, 4)) - birthYear;
      if (age < settings.ageAtLeast)
        return stop(`${age} years old this year; ${settings.ageAtLeast} at least.`, {
          age,
          least: settings.ageAtLeast,
        });
      return age === settings.ageAtLeast
        ? caution(`Turns ${age} this year; check the birthday.`, { age })
        : null;
    },
  },
  {
    code: 'pregnancy',
    source: practice,
    judge: ({ measurements, exchange }) => {
      if (exchange) return null;
      const answer = latestOf(measurements, 'health')?.values['pregnancy'];
      if (answer === 'yes') return stop('Pregnant: refraction changes; wait until after nursing.');
      return answer === undefined || answer === null ? caution('Pregnancy was not asked about.') : null;
    },
  },
  {
    code: 'measurements-fresh',
    source: practice,
    judge: ({ measurements, eye, today, settings, exchange }) => {
      if (exchange) return null;
      const ids = new Set(eye.measurementIds);
      const days = measurements.filter(({ id }) => ids.has(id)).map(({ takenOn }) => takenOn);
      const oldest = [...days].sort()[0];
      if (oldest === undefined) return null;
      const age = daysBetween(oldest, today);
      return age > settings.measurementsOldAfterDays
        ? caution(
            `The oldest measurement used is ${age} days old (${oldest}); measure again after ${settings.measurementsOldAfterDays} days.`,
            { age, oldest, limit: settings.measurementsOldAfterDays },
          )
        : fine(`All measurements used are ${age} days old or younger.`, { age });
    },
  },
  {
    code: 'lens-wear-before',
    source: practice,
    judge: ({ measurements, eye, exchange }) => {
      const wear = latestOf(measurements, 'lens_wear');
      const last = wear?.values['lastWornOn'];
      const ids = new Set(eye.measurementIds);
      const keratometry = measurements.find(({ id, kind }) => kind === 'keratometry' && ids.has(id));
      if (
        exchange ||
        typeof last !== 'string' ||
        keratometry === undefined ||
        wear?.values['wears'] === 'none'
      )
        return null;
      const asked = wear?.values['wears'] === 'soft' ? 14 : 28;
      const days = daysBetween(last, keratometry.takenOn);
      return days < asked
        ? caution(
            `The cornea was measured ${Math.max(days, 0)} days after the last ${String(wear?.values['wears'])} lens; ${asked} are asked for, or its shape is still the lens's.`,
            { days: Math.max(days, 0), wears: String(wear?.values['wears']), asked },
          )
        : fine(`The cornea was measured ${days} days after the last contact lens.`, { days });
    },
  },
];

function numberOf(measurement: MeasurementFacts | null, name: string): number | null {
  const value = measurement?.values[name];
  return typeof value === 'number' ? value : null;
}

function blurBetween(a: MeasurementFacts, b: MeasurementFacts): number {
  const vector = ({ values }: MeasurementFacts) =>
    powerVector({
      sphereD: Number(values['sphereD']),
      cylinderD: Number(values['cylinderD']),
      axisDeg: Number(values['axisDeg'] ?? 0),
    });
  const [x, y] = [vector(a), vector(b)];
  return Math.hypot(x.meanD - y.meanD, x.j0D - y.j0D, x.j45D - y.j45D);
}

/** Fewest endothelial cells per mm² by age: common practice, no source; a maker's own table comes first. */
function cellFloor(ageYears: number): number {
  if (ageYears <= 25) return 2800;
  if (ageYears <= 30) return 2650;
  if (ageYears <= 35) return 2400;
  if (ageYears <= 45) return 2200;
  return 2000;
}

/** Applies every rule: stops first, then cautions, then what is fine. */
export function findingsFor(facts: SuitabilityFacts): Finding[] {
  const order = { stop: 0, caution: 1, fine: 2 } as const;
  return suitabilityRules
    .flatMap(({ code, source, judge }) => {
      const found = judge(facts);
      return found === null ? [] : [{ code, source, ...found }];
    })
    .sort((a, b) => order[a.level] - order[b.level]);
}
