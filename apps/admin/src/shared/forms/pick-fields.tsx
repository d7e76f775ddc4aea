import { ChoiceRow } from './ChoiceRow';
import { FieldFrame, useField, type FieldProps } from './field-frame';

export function SelectField(
  props: FieldProps & { choices: readonly { value: string; label: string }[]; placeholder: string },
) {
  const { id, field, wrong, aria } = useField(props.name);
  return (
    <FieldFrame {...props} id={id} wrong={wrong}>
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
    </FieldFrame>
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
