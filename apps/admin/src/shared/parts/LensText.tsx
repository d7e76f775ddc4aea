import type { Sphere } from '../format/numbers';
import { useFormat } from '../format/use-format';

/** A power in the mono face: `−9.25 / −4.75 × 32`. */
export function LensText({ lens, lengthMm }: { lens: Sphere; lengthMm?: number | null }) {
  const format = useFormat();
  return (
    <span className="mono nowrap">
      {format.lens(lens)}
      {lengthMm != null && ` · ${format.mm(lengthMm)}`}
    </span>
  );
}
