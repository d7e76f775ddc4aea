import type { KeyboardEvent } from 'react';
import { useTranslate } from 'react-admin';

interface Props {
  label: string;
  value: string;
  onStep: (steps: number) => void;
}

const keys: Record<string, number> = {
  ArrowUp: 1,
  ArrowRight: 1,
  ArrowDown: -1,
  ArrowLeft: -1,
  PageUp: 4,
  PageDown: -4,
};

/** A value with a step down and up; arrow keys step too. */
export function Stepper({ label, value, onStep }: Props) {
  const t = useTranslate();
  const onKey = (event: KeyboardEvent) => {
    const steps = keys[event.key];
    if (steps === undefined) return;
    event.preventDefault();
    onStep(steps);
  };
  return (
    <div className="stepper" role="group" aria-label={label} onKeyDown={onKey}>
      <span className="field__label">{label}</span>
      <span className="field__box">
        <button
          type="button"
          className="stepper__button"
          aria-label={t('plan.less', { label })}
          onClick={() => onStep(-1)}
        >
          −
        </button>
        <output className="mono" aria-live="polite">
          {value}
        </output>
        <button
          type="button"
          className="stepper__button"
          aria-label={t('plan.more', { label })}
          onClick={() => onStep(1)}
        >
          +
        </button>
      </span>
    </div>
  );
}
