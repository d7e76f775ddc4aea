import { DesignSheet, type SheetFault } from '@lensferry/contracts';

/** The rows that were read well, by field: their numbers, empty for a text. */
export type SheetValues = Map<
  string,
  { readonly row: number; readonly text: string; readonly numbers: readonly number[] }
>;

const numberIn =
  (values: SheetValues) =>
  (name: string): number => {
    const number = values.get(name)?.numbers[0];
    if (number === undefined) throw new Error(`The row ${name} was not read.`);
    return number;
  };

/** What no row shows alone: limits the wrong way round, and rows that belong together. */
export function contradictionsIn(values: SheetValues): SheetFault[] {
  const faults: SheetFault[] = [];
  const number = numberIn(values);
  const say = (name: string, message: string): void => {
    const { row = 1, text: value = '' } = values.get(name) ?? {};
    faults.push({ row, column: 'value', value, message });
  };
  for (const part of ['sphere', 'cylinder']) {
    const width = number(`${part}_max`) - number(`${part}_min`);
    if (width < 0) say(`${part}_min`, `${part}_min lies above ${part}_max; exchange them.`);
    else if (!isWhole(width / number(`${part}_step`)))
      say(`${part}_step`, `The steps from ${part}_min don't meet ${part}_max; mend one of the three.`);
  }
  const policy = values.get('axis_policy')?.text;
  const [own, others] =
    policy === 'any'
      ? [['axis_step'], ['axes', 'axis_turn_max']]
      : [['axes', 'axis_turn_max'], ['axis_step']];
  for (const name of own)
    if (!values.has(name)) say('axis_policy', `With the policy ${policy}, fill the row ${name} too.`);
  for (const name of others)
    if (values.has(name)) say(name, `With the policy ${policy}, leave ${name} empty.`);
  const stocked = ['stocked_sphere_min', 'stocked_sphere_max', 'stocked_cylinder_min'].filter((name) =>
    values.has(name),
  );
  if (stocked.length > 0 && stocked.length < 3)
    for (const name of stocked) say(name, 'Fill all three rows of what is stocked, or none.');
  if (stocked.length === 3 && number('stocked_sphere_min') > number('stocked_sphere_max'))
    say('stocked_sphere_min', 'stocked_sphere_min lies above stocked_sphere_max; exchange them.');
  return faults;
}

/** Binary fractions: a range of 26 D holds a whole number of steps of 0.1 D although the division says otherwise. */
const isWhole = (steps: number): boolean => Math.abs(steps - Math.round(steps)) < 1e-6;

/** The new sheet; the vault model is kept, since it has a source of its own. */
export function sheetFrom(values: SheetValues, present: DesignSheet): DesignSheet {
  const number = numberIn(values);
  const text = (name: string): string => values.get(name)?.text ?? '';
  const numbers = (name: string): number[] => [...(values.get(name)?.numbers ?? [])];
  const range = (part: string) => ({
    minD: number(`${part}_min`),
    maxD: number(`${part}_max`),
    stepD: number(`${part}_step`),
  });
  return DesignSheet.parse({
    sphere: range('sphere'),
    cylinder: range('cylinder'),
    axis:
      text('axis_policy') === 'any'
        ? { policy: 'any', stepDeg: number('axis_step') }
        : { policy: 'fixed', axesDeg: numbers('axes'), maximumTurnDeg: number('axis_turn_max') },
    lengthsMm: numbers('lengths').sort((a, b) => a - b),
    lensPlaneOffsetMm: number('lens_plane_offset'),
    highCylinderFromD: number('high_cylinder_from'),
    quotedWorkingDays: {
      stocked: number('quoted_stocked'),
      made: number('quoted_made'),
      high: number('quoted_high'),
    },
    stocked: values.has('stocked_sphere_min')
      ? {
          sphereMinD: number('stocked_sphere_min'),
          sphereMaxD: number('stocked_sphere_max'),
          cylinderMinD: number('stocked_cylinder_min'),
        }
      : null,
    price: { base: text('price'), highCylinder: text('price_high_cylinder') },
    vaultModel: present.vaultModel,
    gtin: text('gtin') || null,
  });
}
