import { useTranslate } from 'react-admin';
import { OfferLens, type ClinicNames, type LensSummary, type LensTransfer } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { SelectField, TextField } from '../shared/forms/fields';
import { StepDialog } from '../shared/forms/StepDialog';

interface Props {
  lens: LensSummary;
  title: string;
  consequence: string;
  path: string;
  done: string;
  onClose: () => void;
  onDone: () => void;
}

/** Offers a free lens to one clinic of the network, or to whoever needs it. */
export function OfferDialog({ lens, ...shared }: Props) {
  const t = useTranslate();
  const clinics = useRead<ClinicNames>('/clinics');
  const others = (clinics.data?.items ?? []).filter(({ id }) => id !== lens.clinic.id);
  return (
    <StepDialog<LensTransfer>
      {...shared}
      schema={OfferLens}
      defaults={{ version: lens.version, toClinicId: '', why: '' }}
    >
      <SelectField
        name="toClinicId"
        label={t('transfer.to')}
        placeholder={t('transfer.anybody')}
        choices={others.map(({ id, name }) => ({ value: id, label: name }))}
      />
      <TextField name="why" label={t('common.why')} long autoFocus />
    </StepDialog>
  );
}
