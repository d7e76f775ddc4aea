import type { ReactNode } from 'react';
import { useTranslate } from 'react-admin';
import type { z } from 'zod';
import type { TakeOptions } from '../../providers/use-take';
import { Dialog } from '../parts/Dialog';
import { ContractForm } from './ContractForm';

interface Props<Answer> extends TakeOptions<Answer> {
  title: string;
  /** What follows from the step, said before it is taken. */
  consequence: string;
  schema: z.ZodType;
  path: string;
  defaults: Record<string, unknown>;
  grave?: boolean;
  onClose: () => void;
  children?: ReactNode;
}

/** A dialog that says what follows from a step, asks for what it needs, and takes it. */
export function StepDialog<Answer extends { id: string }>(props: Props<Answer>) {
  const { title, consequence, schema, path, defaults, grave = false, onClose, children, ...options } = props;
  const t = useTranslate();
  return (
    <Dialog title={title} onClose={onClose}>
      <ContractForm<Answer>
        {...options}
        schema={schema}
        path={path}
        defaults={defaults}
        grave={grave}
        submitLabel={title}
        onCancel={onClose}
        onDone={(answer) => {
          onClose();
          options.onDone?.(answer);
        }}
      >
        <p>{consequence || t('common.sure')}</p>
        {children}
      </ContractForm>
    </Dialog>
  );
}
