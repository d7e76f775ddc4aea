import { powerVector, type PowerVector } from '@lensferry/calculation';
import type { SpheroCylinder } from '@lensferry/contracts';
import { round } from '../shared/drawing/face-view';

export interface PlotPoint {
  x: number;
  y: number;
}

export interface DoubleAnglePlot {
  /** Cylinders, dioptres, at which rings are drawn, and their radii. */
  rings: { cylinderD: number; radius: number }[];
  cloud: PlotPoint[];
  predicted: PlotPoint;
  target: PlotPoint;
}

const scales = [0.5, 1, 1.5, 2, 3, 4, 6, 8];

/**
 * Refractions left in double-angle space: to the right a cylinder at 180°, up at 45°, left at 90°, down at 135°.
 * The scale is the smallest round cylinder that holds nine in ten of the cloud.
 */
export function doubleAngleOf(
  cloud: readonly PowerVector[],
  predicted: SpheroCylinder,
  target: SpheroCylinder,
  radius: number,
): DoubleAnglePlot {
  const vector = (value: SpheroCylinder) => powerVector({ ...value, axisDeg: value.axisDeg ?? 0 });
  const sizes = cloud.map(({ j0D, j45D }) => 2 * Math.hypot(j0D, j45D)).sort((a, b) => a - b);
  const needed = Math.max(
    sizes[Math.floor(sizes.length * 0.9)] ?? 0,
    Math.abs(predicted.cylinderD),
    Math.abs(target.cylinderD),
  );
  const most = scales.find((scale) => scale >= needed) ?? Math.ceil(needed);
  const at = ({ j0D, j45D }: Pick<PowerVector, 'j0D' | 'j45D'>): PlotPoint => ({
    x: round(((2 * j0D) / most) * radius),
    y: round(((-2 * j45D) / most) * radius),
  });
  return {
    rings: [0.5, 1].map((part) => ({ cylinderD: most * part, radius: radius * part })),
    cloud: cloud.map(at).filter(({ x, y }) => Math.hypot(x, y) <= radius * 1.12),
    predicted: at(vector(predicted)),
    target: at(vector(target)),
  };
}
