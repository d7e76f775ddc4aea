import { useTranslate } from 'react-admin';
import type { z } from 'zod';
import { eyes, type TransferEvent } from '@lensferry/domain';
import {
  AcceptTransfer,
  ReasonedStep,
  ReceiveTransfer,
  SendTransfer,
  TakeBackTransfer,
  type LensTransfer,
} from '@lensferry/contracts';
import { ChoiceField, DateField, NumberField, SelectField, TextField } from '../shared/forms/fields';
import { StepDialog } from '../shared/forms/StepDialog';

interface Props {
  of: LensTransfer;
  step: TransferEvent;
  onClose: () => void;
}

const schemas: Partial<Record<TransferEvent, z.ZodType>> = {
  accept: AcceptTransfer,
  send: SendTransfer,
  receive: ReceiveTransfer,
  'take-back': TakeBackTransfer,
};

/** The form of one step of a transfer, with what follows from it. */
export function TransferDialog({ of, step, onClose }: Props) {
  const t = useTranslate();
  const facts = { serial: of.serial, from: of.from.name, to: of.to?.name ?? t('transfer.whoever') };
  return (
    <StepDialog<LensTransfer>
      title={t(`transfer.step.${step}`)}
      consequence={t(`transfer.consequence.${step}`, facts)}
      schema={schemas[step] ?? ReasonedStep}
      path={`/transfers/${of.id}/${step}`}
      defaults={{
        version: of.version,
        ...(step === 'accept' && { orderId: of.fits[0]?.id ?? '' }),
        ...(step === 'receive' && { label: { text: '' }, location: '' }),
      }}
      done={`transfer.done.${step}`}
      grave={step === 'lose' || step === 'refuse'}
      onClose={onClose}
    >
      <Fields of={of} step={step} />
    </StepDialog>
  );
}

function Fields({ of, step }: { of: LensTransfer; step: TransferEvent }) {
  const t = useTranslate();
  switch (step) {
    case 'accept':
      return (
        <>
          <SelectField
            name="orderId"
            label={t('transfer.which_order')}
            placeholder={t('transfer.which_order')}
            choices={of.fits.map(({ id, number, clinicName }) => ({
              value: id,
              label: `${number} · ${clinicName}`,
            }))}
          />
          <TextField name="why" label={t('common.why')} long />
        </>
      );
    case 'send':
      return <TextField name="tracking" label={t('order.tracking')} mono autoFocus />;
    case 'receive':
      return <PackFields />;
    case 'take-back':
      return (
        <>
          <TextField name="location" label={t('lens.place')} hint={t('arrival.place_hint')} autoFocus />
          <TextField name="why" label={t('common.why')} long />
        </>
      );
    default:
      return <TextField name="why" label={t('common.why')} long autoFocus />;
  }
}

/** The pack as it is read: by its code, and by eye for what no code holds. */
function PackFields() {
  const t = useTranslate();
  const name = (field: string) => ({ name: `label.${field}`, label: t(`field.${field}`) });
  return (
    <>
      <TextField name="label.text" label={t('transfer.scan')} hint={t('arrival.blind')} mono autoFocus />
      <TextField {...name('serial')} mono />
      <ChoiceField {...name('eye')} choices={eyes.map((value) => ({ value, label: t(`eye.${value}`) }))} />
      <div className="form__row">
        <NumberField {...name('sphereD')} unit="D" />
        <NumberField {...name('cylinderD')} unit="D" />
        <NumberField {...name('axisDeg')} unit="°" />
        <NumberField {...name('lengthMm')} unit="mm" />
      </div>
      <DateField {...name('expiresOn')} />
      <TextField name="location" label={t('lens.place')} hint={t('arrival.place_hint')} />
    </>
  );
}
