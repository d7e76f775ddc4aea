import { useTranslate } from 'react-admin';
import type { SpheroCylinder } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';
import { Stepper } from './Stepper';
import { steppedAxis } from './choice';

const STEP_D = 0.25;
const anyAxis = { policy: 'any', stepDeg: 5 } as const;

/** The refraction aimed at, at the spectacle plane. */
export function TargetControls({
  target,
  onChange,
}: {
  target: SpheroCylinder;
  onChange: (target: SpheroCylinder) => void;
}) {
  const t = useTranslate();
  const format = useFormat();
  const sphere = (steps: number) => onChange({ ...target, sphereD: target.sphereD + steps * STEP_D });
  const cylinder = (steps: number) => {
    const cylinderD = Math.min(0, target.cylinderD + steps * STEP_D);
    onChange({ ...target, cylinderD, axisDeg: cylinderD === 0 ? null : (target.axisDeg ?? 180) });
  };
  return (
    <fieldset className="plan__set">
      <legend>{t('plan.target')}</legend>
      <Stepper label={t('field.sphereD')} value={format.dioptres(target.sphereD)} onStep={sphere} />
      <Stepper label={t('field.cylinderD')} value={format.dioptres(target.cylinderD)} onStep={cylinder} />
      {target.axisDeg !== null && (
        <Stepper
          label={t('field.axisDeg')}
          value={format.degrees(target.axisDeg)}
          onStep={(steps) =>
            onChange({ ...target, axisDeg: steppedAxis(target.axisDeg ?? 180, anyAxis, steps) })
          }
        />
      )}
    </fieldset>
  );
}
