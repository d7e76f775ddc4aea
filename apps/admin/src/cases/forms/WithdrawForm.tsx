import { CloseCase } from '@lensferry/contracts';
import type { CaseFormProps } from '../CaseDialogs';
import { ReasonForm } from './ReasonForm';

export default function WithdrawForm(props: CaseFormProps) {
  return <ReasonForm {...props} schema={CloseCase} step="withdraw" path="withdraw" grave />;
}
