import type { ComponentProps } from 'react';

interface Props extends ComponentProps<'input'> {
  label: string;
  hint?: string;
  mono?: boolean;
}

/** A field of the page on which one signs in, which comes before the admin's own forms are loaded. */
export function ShellField({ label, hint, mono = false, ...input }: Props) {
  return (
    <label className="field">
      <span className="field__label">{label}</span>
      <span className="field__box">
        <input className={mono ? 'field__input mono' : 'field__input'} required {...input} />
      </span>
      {hint && <span className="muted small">{hint}</span>}
    </label>
  );
}
