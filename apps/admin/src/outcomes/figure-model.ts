/** One bar with its limits; null limits are not drawn. */
export interface Bar {
  value: number;
  low: number | null;
  high: number | null;
}

/** Bars in groups: the first series is filled, the second hatched, so that they read without colour. */
export interface BarsModel {
  kind: 'bars';
  groups: { label: string; bars: (Bar | null)[] }[];
  series: string[];
  xLabel: string;
  yLabel: string;
}

/** Points, each with limits upwards and downwards where it has them, and lines. */
export interface PointsModel {
  kind: 'points';
  points: { x: number; y: number; low?: number; high?: number }[];
  xLabel: string;
  yLabel: string;
  /** The line of perfect agreement, and the fitted one. */
  diagonal: boolean;
  line: { slope: number; intercept: number } | null;
}

/** Means over visits with their limits, in the order of time. */
export interface CourseModel {
  kind: 'course';
  steps: { label: string; n: string; mean: number; low: number | null; high: number | null }[];
  xLabel: string;
  yLabel: string;
}

/** Astigmatisms in double-angle space, with centroid and ellipses. */
export interface DoubleAngleModel {
  kind: 'double-angle';
  points: { x: number; y: number }[];
  centre: { x: number; y: number } | null;
  spread: Ellipse | null;
  ofCentroid: Ellipse | null;
  /** What stands on a ring, with `#` for its dioptres. */
  ring: string;
}
export interface Ellipse {
  halfLongD: number;
  halfShortD: number;
  turnDeg: number;
}

/** Groups of different size against the limits that chance alone would give them. */
export interface FunnelModel {
  kind: 'funnel';
  rows: {
    label: string;
    share: number | null;
    inner: readonly [number, number] | null;
    outer: readonly [number, number] | null;
  }[];
  overall: number | null;
  xLabel: string;
}

/** Values with a range, two beside each other in every group: the first a ring on a dashed line, the second a square. */
export interface RangesModel {
  kind: 'ranges';
  groups: { label: string; ranges: readonly [Range, Range] }[];
  series: readonly [string, string];
  xLabel: string;
  yLabel: string;
}
export interface Range {
  value: number;
  low: number;
  high: number;
}

/** A share that grows in steps, with its limits, and a forecast beside it. */
export interface CurveModel {
  kind: 'curve';
  steps: { at: number; share: number; low: number; high: number }[];
  forecast: { at: number; share: number }[];
  series: readonly [string, string];
  xLabel: string;
  yLabel: string;
}

export type DrawnModel =
  BarsModel | PointsModel | CourseModel | DoubleAngleModel | FunnelModel | RangesModel | CurveModel;

/** A figure with all its words: the finding as title, what it rests on, the picture, and the numbers as a table. */
export interface Figure {
  id: string;
  /** What is shown. */
  name: string;
  /** What it shows, with a number of this figure in it. */
  finding: string;
  /** n and follow-up. */
  basis: string;
  notes: string[];
  model: DrawnModel;
  /** The numbers: a row for whatever is drawn, and more where they say more. */
  table: { head: string[]; rows: string[][] };
}

/** How many things of its own a picture draws, each of which has a row in the table. */
export function countDrawn(model: DrawnModel): number {
  switch (model.kind) {
    case 'bars':
    case 'ranges':
      return model.groups.length;
    case 'points':
    case 'double-angle':
      return model.points.length;
    case 'course':
    case 'curve':
      return model.steps.length;
    case 'funnel':
      return model.rows.length;
  }
}
