import { EndExchange } from '@lensferry/contracts';
import type { CaseFormProps } from '../CaseDialogs';
import { ReasonForm } from './ReasonForm';

export default function EndExchangeForm(props: CaseFormProps) {
  return <ReasonForm {...props} schema={EndExchange} step="end-exchange" path="exchange/end" />;
}
