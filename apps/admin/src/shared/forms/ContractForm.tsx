import { useQueryClient } from '@tanstack/react-query';
import { useState, type ReactNode } from 'react';
import { useTranslate } from 'react-admin';
import { FormProvider, useForm, type FieldValues } from 'react-hook-form';
import type { z } from 'zod';
import { Unreachable } from '../../providers/request';
import { useTake, type TakeOptions } from '../../providers/use-take';
import { contractResolver } from './contract-resolver';
import { placeProblem } from './problem-errors';

interface Props<Answer> extends TakeOptions<Answer> {
  schema: z.ZodType;
  path: string;
  /** What the form starts with; also everything that it sends along unseen, such as the version. */
  defaults: FieldValues;
  submitLabel: string;
  grave?: boolean;
  /** The button over the whole width, as in a narrow card. */
  wide?: boolean;
  /** Brings the form's values into the contract's shape, where the two differ. */
  shape?: (values: FieldValues) => unknown;
  onCancel?: () => void;
  children?: ReactNode;
}

/** A form by a contract: checked as the API checks it, saved only when the server says so. */
export function ContractForm<Answer extends { id: string }>(props: Props<Answer>) {
  const {
    schema,
    path,
    defaults,
    submitLabel,
    grave = false,
    wide = false,
    shape,
    onCancel,
    children,
    ...options
  } = props;
  const t = useTranslate();
  const queries = useQueryClient();
  const take = useTake<Answer>(path, options);
  const [head, setHead] = useState<{ texts: string[]; moved: boolean } | null>(null);
  const form = useForm<FieldValues>({
    resolver: contractResolver(schema, t, shape),
    defaultValues: defaults,
  });
  const submit = form.handleSubmit(async (values) => {
    setHead(null);
    try {
      await take.mutateAsync(values);
    } catch (error) {
      const placed = placeProblem(error, (name) => form.control._fields && has(form.control._fields, name));
      if (placed === null)
        return setHead({
          texts: [t(error instanceof Unreachable ? 'common.unreachable' : 'common.failed')],
          moved: false,
        });
      for (const { name, message } of placed.fields)
        form.setError(name, { type: 'server', message }, { shouldFocus: true });
      setHead({ texts: placed.rest, moved: placed.moved });
    }
  });
  const root =
    form.formState.errors['root']?.message ??
    (form.formState.errors['values'] as { message?: string } | undefined)?.message;
  const texts = [...(head?.texts ?? []), ...(typeof root === 'string' ? [root] : [])];
  return (
    <FormProvider {...form}>
      <form className="form" noValidate onSubmit={(event) => void submit(event)}>
        {children}
        <div role="alert">
          {texts.length > 0 && (
            <div className="note note--brick">
              {head?.moved && <p className="strong">{t('form.moved')}</p>}
              {texts.map((text) => (
                <p key={text}>{text}</p>
              ))}
              {head?.moved && (
                <button
                  type="button"
                  className="button button--text"
                  onClick={() => void queries.invalidateQueries().then(() => onCancel?.())}
                >
                  {t('form.reload')}
                </button>
              )}
            </div>
          )}
        </div>
        <div className="form__actions">
          <button
            className={`button button--filled${grave ? ' button--grave' : ''}${wide ? ' button--wide' : ''}`}
            disabled={take.isPending}
          >
            {take.isPending ? t('form.saving') : submitLabel}
          </button>
          {onCancel && (
            <button type="button" className="button" onClick={onCancel}>
              {t('common.cancel')}
            </button>
          )}
        </div>
      </form>
    </FormProvider>
  );
}

/** Whether a form has registered a field of this name. */
function has(fields: object, name: string): boolean {
  return (
    name
      .split('.')
      .reduce<unknown>((at, part) => (at as Record<string, unknown> | undefined)?.[part], fields) !==
    undefined
  );
}
