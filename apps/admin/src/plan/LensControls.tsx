import { useId } from 'react';
import { useTranslate } from 'react-admin';
import type { PlanChoice, PlanInput } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';
import { stepped, steppedAxis, type DesignChoice } from './choice';
import { Stepper } from './Stepper';
import { bestOf, eyeOf } from './what-if';

interface Props {
  choice: PlanChoice;
  design: DesignChoice;
  designs: readonly DesignChoice[];
  input: PlanInput;
  onChange: (choice: PlanChoice) => void;
}

/** The lens in hand: its design, powers and axis, each in the steps that its maker makes. */
export function LensControls({ choice, design, designs, input, onChange }: Props) {
  const t = useTranslate();
  const format = useFormat();
  const id = useId();
  const { sheet } = design;
  const nearest = (one: DesignChoice) => bestOf(eyeOf(input, choice.target, one.sheet), one.sheet);
  const toDesign = (wanted: string) => {
    const next = designs.find((one) => one.id === wanted);
    const lens = next && nearest(next);
    if (!next || !lens) return;
    const lengthMm = next.sheet.lengthsMm.includes(choice.lengthMm)
      ? choice.lengthMm
      : (next.sheet.lengthsMm[0] ?? choice.lengthMm);
    onChange({ ...choice, ...lens, designVersionId: next.id, lengthMm });
  };
  const cylinder = (steps: number) => {
    const cylinderD = stepped(choice.cylinderD, sheet.cylinder, steps);
    onChange({ ...choice, cylinderD, axisDeg: cylinderD === 0 ? null : (choice.axisDeg ?? 180) });
  };
  const best = nearest(design);
  return (
    <fieldset className="plan__set">
      <legend>{t('plan.lens')}</legend>
      <div className="field plan__design">
        <label className="field__label" htmlFor={id}>
          {t('plan.maker')}
        </label>
        <span className="field__box">
          <select
            id={id}
            className="field__input"
            value={design.id}
            onChange={(event) => toDesign(event.target.value)}
          >
            {designs.map((one) => (
              <option key={one.id} value={one.id} disabled={nearest(one) === null}>
                {one.maker}, {one.name}
                {nearest(one) === null && ` (${t('plan.cannot_make')})`}
              </option>
            ))}
          </select>
        </span>
      </div>
      <Stepper
        label={t('field.sphereD')}
        value={format.dioptres(choice.sphereD)}
        onStep={(steps) => onChange({ ...choice, sphereD: stepped(choice.sphereD, sheet.sphere, steps) })}
      />
      <Stepper label={t('field.cylinderD')} value={format.dioptres(choice.cylinderD)} onStep={cylinder} />
      {choice.axisDeg !== null && (
        <Stepper
          label={t('field.axisDeg')}
          value={format.degrees(choice.axisDeg)}
          onStep={(steps) =>
            onChange({ ...choice, axisDeg: steppedAxis(choice.axisDeg ?? 180, sheet.axis, steps) })
          }
        />
      )}
      {best && (
        <button
          type="button"
          className="button button--text"
          onClick={() => onChange({ ...choice, ...best })}
        >
          {t('plan.back_to_best')}
        </button>
      )}
    </fieldset>
  );
}
