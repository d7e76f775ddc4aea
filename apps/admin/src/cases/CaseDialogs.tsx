import { lazy, Suspense } from 'react';
import { useTranslate } from 'react-admin';
import type { CaseDetail } from '@lensferry/contracts';
import { Dialog } from '../shared/parts/Dialog';
import { useDoing } from '../shared/parts/use-doing';

const forms = {
  schedule: lazy(() => import('./forms/ScheduleForm')),
  implant: lazy(() => import('./forms/ImplantForm')),
  exchange: lazy(() => import('./forms/ExchangeForm')),
  'end-exchange': lazy(() => import('./forms/EndExchangeForm')),
  consider: lazy(() => import('./forms/ConsiderForm')),
  close: lazy(() => import('./forms/CloseForm')),
  withdraw: lazy(() => import('./forms/WithdrawForm')),
  'export-subject': lazy(() => import('./forms/SubjectExportView')),
  'erase-identity': lazy(() => import('./forms/EraseForm')),
  identity: lazy(() => import('./forms/IdentityView')),
};
type FormName = keyof typeof forms;

export interface CaseFormProps {
  of: CaseDetail;
  close: () => void;
}

/** The forms of a case, each opened by its address: `?do=schedule`. */
export function CaseDialogs({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const [doing, open] = useDoing();
  const name = doing as FormName | null;
  if (name === null || !(name in forms) || !of.actions.includes(name)) return null;
  const Form = forms[name];
  const close = () => open(null);
  return (
    <Suspense fallback={null}>
      <Dialog
        title={`${t(`step.case.${name}`)} · ${of.codeName}, ${t(`eye.${of.eye}`)}`}
        onClose={close}
        className={name === 'exchange' ? 'dialog--wide' : ''}
      >
        <Form of={of} close={close} />
      </Dialog>
    </Suspense>
  );
}
