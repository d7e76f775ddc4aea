import type { DesignSheet } from '@lensferry/contracts';

/** How the value of a row is written; `list` holds several, with spaces between. */
export type SheetRule =
  | {
      readonly kind: 'number' | 'list';
      readonly min: number;
      readonly max: number;
      readonly whole?: boolean;
    }
  | { readonly kind: 'design' | 'policy' | 'amount' | 'gtin' };

/** One row of a design's sheet as a file: its name, unit, rule, and how the present sheet fills it. */
export interface SheetField {
  readonly name: string;
  /** `currency` stands for the maker's own. */
  readonly unit: string;
  readonly rule: SheetRule;
  /** May be left empty; which of these belong together is checked once all rows are read. */
  readonly optional?: boolean;
  readonly of: (sheet: DesignSheet, code: string) => string;
}

const text = (value: number | undefined | null): string => value?.toString() ?? '';
const dioptres = (min: number, max: number): SheetRule => ({ kind: 'number', min, max });
const days: SheetRule = { kind: 'number', min: 0, max: 365, whole: true };
const any = ({ axis }: DesignSheet) => (axis.policy === 'any' ? axis : undefined);
const fixed = ({ axis }: DesignSheet) => (axis.policy === 'fixed' ? axis : undefined);

/**
 * The rows of a design's sheet, in the order that they are written in. The limits are those of the order document and
 * of the calculation; the vault model has a source of its own and is not in the file.
 */
export const sheetFields: readonly SheetField[] = [
  { name: 'design', unit: '', rule: { kind: 'design' }, of: (_, code) => code },
  { name: 'sphere_min', unit: 'D', rule: dioptres(-40, 40), of: (s) => text(s.sphere.minD) },
  { name: 'sphere_max', unit: 'D', rule: dioptres(-40, 40), of: (s) => text(s.sphere.maxD) },
  { name: 'sphere_step', unit: 'D', rule: dioptres(0.01, 5), of: (s) => text(s.sphere.stepD) },
  { name: 'cylinder_min', unit: 'D', rule: dioptres(-20, 0), of: (s) => text(s.cylinder.minD) },
  { name: 'cylinder_max', unit: 'D', rule: dioptres(-20, 0), of: (s) => text(s.cylinder.maxD) },
  { name: 'cylinder_step', unit: 'D', rule: dioptres(0.01, 5), of: (s) => text(s.cylinder.stepD) },
  { name: 'axis_policy', unit: '', rule: { kind: 'policy' }, of: (s) => s.axis.policy },
  {
    name: 'axis_step',
    unit: 'degrees',
    rule: { kind: 'number', min: 0.1, max: 90 },
    optional: true,
    of: (s) => text(any(s)?.stepDeg),
  },
  {
    name: 'axes',
    unit: 'degrees',
    rule: { kind: 'list', min: 1, max: 180, whole: true },
    optional: true,
    of: (s) => fixed(s)?.axesDeg.join(' ') ?? '',
  },
  {
    name: 'axis_turn_max',
    unit: 'degrees',
    rule: { kind: 'number', min: 0.1, max: 90 },
    optional: true,
    of: (s) => text(fixed(s)?.maximumTurnDeg),
  },
  {
    name: 'lengths',
    unit: 'mm',
    rule: { kind: 'list', min: 8, max: 16 },
    of: (s) => s.lengthsMm.join(' '),
  },
  {
    name: 'lens_plane_offset',
    unit: 'mm',
    rule: { kind: 'number', min: 0, max: 2 },
    of: (s) => text(s.lensPlaneOffsetMm),
  },
  {
    name: 'high_cylinder_from',
    unit: 'D',
    rule: { kind: 'number', min: 0, max: 20 },
    of: (s) => text(s.highCylinderFromD),
  },
  { name: 'quoted_stocked', unit: 'working days', rule: days, of: (s) => text(s.quotedWorkingDays.stocked) },
  { name: 'quoted_made', unit: 'working days', rule: days, of: (s) => text(s.quotedWorkingDays.made) },
  { name: 'quoted_high', unit: 'working days', rule: days, of: (s) => text(s.quotedWorkingDays.high) },
  {
    name: 'stocked_sphere_min',
    unit: 'D',
    rule: dioptres(-40, 40),
    optional: true,
    of: (s) => text(s.stocked?.sphereMinD),
  },
  {
    name: 'stocked_sphere_max',
    unit: 'D',
    rule: dioptres(-40, 40),
    optional: true,
    of: (s) => text(s.stocked?.sphereMaxD),
  },
  {
    name: 'stocked_cylinder_min',
    unit: 'D',
    rule: dioptres(-20, 0),
    optional: true,
    of: (s) => text(s.stocked?.cylinderMinD),
  },
  { name: 'price', unit: 'currency', rule: { kind: 'amount' }, of: (s) => s.price.base },
  {
    name: 'price_high_cylinder',
    unit: 'currency',
    rule: { kind: 'amount' },
    of: (s) => s.price.highCylinder,
  },
  { name: 'gtin', unit: '', rule: { kind: 'gtin' }, optional: true, of: (s) => s.gtin ?? '' },
];
