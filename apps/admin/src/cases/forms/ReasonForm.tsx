import { useTranslate } from 'react-admin';
import type { z } from 'zod';
import type { CaseDetail } from '@lensferry/contracts';
import { ContractForm } from '../../shared/forms/ContractForm';
import { TextField } from '../../shared/forms/fields';
import type { CaseFormProps } from '../CaseDialogs';

interface Props extends CaseFormProps {
  schema: z.ZodType;
  step: 'close' | 'withdraw' | 'end-exchange';
  path: string;
  grave?: boolean;
}

/** A step of a case that needs a reason; what follows from it is said before. */
export function ReasonForm({ of, close, schema, step, path, grave = false }: Props) {
  const t = useTranslate();
  return (
    <ContractForm<CaseDetail>
      schema={schema}
      path={`/cases/${of.id}/${path}`}
      defaults={{ version: of.version, why: '' }}
      answers="cases"
      done={`case.done.${step}`}
      onDone={close}
      onCancel={close}
      grave={grave}
      submitLabel={t(`step.case.${step}`)}
    >
      <p>{t(`case.consequence.${step}`)}</p>
      <TextField name="why" label={t('common.why')} long autoFocus />
    </ContractForm>
  );
}
