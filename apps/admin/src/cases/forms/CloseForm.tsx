import { CloseCase } from '@lensferry/contracts';
import type { CaseFormProps } from '../CaseDialogs';
import { ReasonForm } from './ReasonForm';

export default function CloseForm(props: CaseFormProps) {
  return <ReasonForm {...props} schema={CloseCase} step="close" path="close" />;
}
