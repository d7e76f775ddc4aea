import { useState } from 'react';
import { FieldFrame, useField, type FieldProps } from './field-frame';
import { parseNumber } from './parse-number';

export { ChoiceField, SelectField } from './pick-fields';

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
    <FieldFrame {...props} id={id} wrong={wrong}>
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
    </FieldFrame>
  );
}

export function NumberField(props: FieldProps & { unit?: string | undefined }) {
  const { id, field, wrong, aria } = useField(props.name);
  const [text, setText] = useState(
    field.value === undefined || field.value === null ? '' : String(field.value),
  );
  return (
    <FieldFrame {...props} id={id} wrong={wrong}>
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
    </FieldFrame>
  );
}

export function DateField(props: FieldProps & { max?: string; min?: string }) {
  const { id, field, wrong, aria } = useField(props.name);
  return (
    <FieldFrame {...props} id={id} wrong={wrong}>
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
    </FieldFrame>
  );
}
