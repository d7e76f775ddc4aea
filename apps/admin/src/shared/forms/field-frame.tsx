import { useId, type ReactNode } from 'react';
import { useController } from 'react-hook-form';

export interface FieldProps {
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

/** A field's label, box, unit, and what is wrong with it or how it is filled. */
export function FieldFrame({ id, label, hint, wrong, unit, children }: FrameProps) {
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
        // Said aloud: the focus may be on the field already, and then nothing else would tell.
        <span className="field__wrong" id={`${id}-wrong`} role="alert">
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

/** A field of the form by its name, with what a screen reader needs to know of it. */
export function useField(name: string) {
  const id = useId();
  const { field, fieldState } = useController({ name });
  const wrong = messageOf(fieldState.error);
  const described = wrong ? `${id}-wrong` : `${id}-hint`;
  const aria = { 'aria-invalid': wrong !== undefined, 'aria-describedby': described } as const;
  return { id, field, wrong, aria };
}

/** What is wrong with a field; where it holds several values, what is wrong with the first that is. */
function messageOf(error: unknown): string | undefined {
  if (Array.isArray(error)) return error.map(messageOf).find((message) => message !== undefined);
  const { message } = (error ?? {}) as { message?: unknown };
  return typeof message === 'string' ? message : undefined;
}
