import { minusForm } from '@lensferry/calculation';
import type { Sphere } from '../shared/format/numbers';

/** A refraction in the form in which it is kept, or null while it is not complete or can't be. */
export function keptForm(sphereD?: number, cylinderD?: number, axisDeg?: number): Sphere | null {
  if (sphereD === undefined || cylinderD === undefined || (cylinderD !== 0 && axisDeg === undefined))
    return null;
  try {
    const kept = minusForm({ sphereD, cylinderD, axisDeg: axisDeg ?? 0 });
    return kept.cylinderD === 0 ? { ...kept, axisDeg: null } : kept;
  } catch {
    // Not a number, or an axis beyond 180: the field itself says so.
    return null;
  }
}
