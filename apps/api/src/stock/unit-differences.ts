import type { Specification } from '@lensferry/domain';

/** A unit as it is compared with what an order asks for. */
export interface ComparedUnit {
  /** What was read off its pack. */
  readonly lens: unknown;
  readonly designCode: string;
  readonly makerId: string;
}

/** What of a unit is not what an order's specification says, in words; nothing when it is exactly that lens. */
export function differencesOf(
  unit: ComparedUnit,
  order: { readonly specification: unknown; readonly makerId: string },
): string[] {
  const asked = order.specification as Specification;
  const is = unit.lens as Record<string, unknown>;
  const pairs: [string, unknown, unknown][] = [
    ['maker', unit.makerId, order.makerId],
    ['design', unit.designCode, asked.designCode],
    ['eye', is['eye'], asked.eye],
    ['sphere', is['sphereD'], asked.sphereD],
    ['cylinder', is['cylinderD'], asked.cylinderD],
    ['axis', is['axisDeg'] ?? null, asked.axisDeg],
    ['length', is['lengthMm'], asked.lengthMm],
  ];
  return pairs.filter(([, one, other]) => one !== other).map(([word]) => word);
}
