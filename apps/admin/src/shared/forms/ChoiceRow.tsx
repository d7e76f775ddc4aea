import { useId } from 'react';

interface Props {
  legend: string;
  name: string;
  value: string | null | undefined;
  choices: readonly { value: string; label: string }[];
  onChange: (value: string) => void;
  wrong?: string | undefined;
  hint?: string | undefined;
}

/** A few choices side by side, as radio buttons that one can hit with a thumb. */
export function ChoiceRow({ legend, name, value, choices, onChange, wrong, hint }: Props) {
  const id = useId();
  return (
    <fieldset
      className={wrong ? 'choices field--wrong' : 'choices'}
      aria-describedby={wrong || hint ? id : undefined}
    >
      <legend className="field__label">{legend}</legend>
      {choices.map((choice) => (
        <label key={choice.value} className="choices__choice">
          <input
            type="radio"
            name={`${id}${name}`}
            data-field={name}
            value={choice.value}
            checked={value === choice.value}
            onChange={() => onChange(choice.value)}
          />
          <span>{choice.label}</span>
        </label>
      ))}
      {(wrong || hint) && (
        <p id={id} className={wrong ? 'field__wrong' : 'field__hint'}>
          {wrong ?? hint}
        </p>
      )}
    </fieldset>
  );
}
