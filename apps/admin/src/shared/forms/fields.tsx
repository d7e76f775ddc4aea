import { useId, useState, type ReactNode } from 'react';
import { useController } from 'react-hook-form';
import { parseNumber } from './parse-number';
import { ChoiceRow } from './ChoiceRow';

interface FieldProps {
  name: string;
  label: string;
  hint?: ReactNode;
}

interface FrameProps extends FieldProps {
  id: string;
  wrong: string | undefined;
  unit?: string | undefined;
  children: ReactNode;
}

function Frame({ id, label, hint, wrong, unit, children }: FrameProps) {
  return (
    <div className={wrong ? 'field field--wrong' : 'field'}>
      <label className="field__label" htmlFor={id}>
        {label}
      </label>
      <span className="field__box">
        {children}
        {unit && <span className="field__unit">{unit}</span>}
      </span>
      {wrong && (
        <span className="field__wrong" id={`${id}-wrong`}>
          {wrong}
        </span>
      )}
      {!wrong && hint && (
        <span className="field__hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
    </div>
  );
}

function useField(name: string) {
  const id = useId();
  const { field, fieldState } = useController({ name });
  const wrong = fieldState.error?.message;
  const described = wrong ? `${id}-wrong` : `${id}-hint`;
  const aria = { 'aria-invalid': wrong !== undefined, 'aria-describedby': described } as const;
  return { id, field, wrong, aria };
}

export function TextField(
  props: FieldProps & {
    mono?: boolean;
    type?: string;
    autoFocus?: boolean;
    long?: boolean;
    autoComplete?: string;
  },
) {
  const { id, field, wrong, aria } = useField(props.name);
  const shared = {
    id,
    ...aria,
    name: field.name,
    value: (field.value as string | undefined) ?? '',
    onChange: field.onChange,
    onBlur: field.onBlur,
    ref: field.ref,
  };
  const className = props.mono ? 'field__input mono' : 'field__input';
  return (
    <Frame {...props} id={id} wrong={wrong}>
      {props.long ? (
        <textarea {...shared} className={className} rows={3} autoFocus={props.autoFocus} />
      ) : (
        <input
          {...shared}
          className={className}
          type={props.type ?? 'text'}
          autoComplete={props.autoComplete ?? 'off'}
          autoFocus={props.autoFocus}
          spellCheck={!props.mono}
        />
      )}
    </Frame>
  );
}

export function NumberField(props: FieldProps & { unit?: string | undefined }) {
  const { id, field, wrong, aria } = useField(props.name);
  const [text, setText] = useState(
    field.value === undefined || field.value === null ? '' : String(field.value),
  );
  return (
    <Frame {...props} id={id} wrong={wrong}>
      <input
        {...aria}
        id={id}
        ref={field.ref}
        name={field.name}
        className="field__input mono"
        inputMode="text"
        autoComplete="off"
        value={text}
        onBlur={field.onBlur}
        onChange={(event) => {
          setText(event.target.value);
          field.onChange(parseNumber(event.target.value));
        }}
      />
    </Frame>
  );
}

export function DateField(props: FieldProps & { max?: string; min?: string }) {
  const { id, field, wrong, aria } = useField(props.name);
  return (
    <Frame {...props} id={id} wrong={wrong}>
      <input
        {...aria}
        id={id}
        ref={field.ref}
        name={field.name}
        className="field__input"
        type="date"
        min={props.min}
        max={props.max}
        value={(field.value as string | undefined) ?? ''}
        onChange={field.onChange}
        onBlur={field.onBlur}
      />
    </Frame>
  );
}

export function SelectField(
  props: FieldProps & { choices: readonly { value: string; label: string }[]; placeholder: string },
) {
  const { id, field, wrong, aria } = useField(props.name);
  return (
    <Frame {...props} id={id} wrong={wrong}>
      <select
        {...aria}
        id={id}
        ref={field.ref}
        name={field.name}
        className="field__input"
        value={(field.value as string | undefined) ?? ''}
        onChange={field.onChange}
        onBlur={field.onBlur}
      >
        <option value="">{props.placeholder}</option>
        {props.choices.map(({ value, label }) => (
          <option key={value} value={value}>
            {label}
          </option>
        ))}
      </select>
    </Frame>
  );
}

/** A choice that has to be made: nothing is chosen beforehand. */
export function ChoiceField(props: FieldProps & { choices: readonly { value: string; label: string }[] }) {
  const { field, wrong } = useField(props.name);
  return (
    <ChoiceRow
      legend={props.label}
      name={props.name}
      value={field.value as string | undefined}
      choices={props.choices}
      onChange={field.onChange}
      wrong={wrong}
      hint={typeof props.hint === 'string' ? props.hint : undefined}
    />
  );
}
