import { useState } from 'react';
import { useTranslate } from 'react-admin';
import { MatchParcel, ReasonedStep, type OrderSummary, type UnexpectedParcel } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { SelectField, TextField } from '../shared/forms/fields';
import { StepDialog } from '../shared/forms/StepDialog';
import { Section } from '../shared/parts/Page';
import { Moment } from '../shared/parts/When';
import { ReadOff } from './ReadOff';

type Step = UnexpectedParcel['steps'][number];

/** Parcels that no order waited for, until somebody says of each where it belongs. */
export function UnexpectedParcels() {
  const t = useTranslate();
  const query = useRead<{ items: UnexpectedParcel[] }>('/parcels');
  const [open, setOpen] = useState<{ parcel: UnexpectedParcel; step: Step } | null>(null);
  const parcels = query.data?.items ?? [];
  if (parcels.length === 0) return null;
  return (
    <Section title={t('arrival.unexpected')}>
      <ul className="card rows">
        {parcels.map((parcel) => (
          <li key={parcel.id} className="card--padded form">
            <p>
              <span className="strong">
                <ReadOff parcel={parcel} />
              </span>
              <br />
              {parcel.location}, {parcel.clinic.name} ·{' '}
              <span className="muted">
                <Moment at={parcel.receivedAt} /> · {parcel.receivedByName}
              </span>
            </p>
            <p>{parcel.note}</p>
            <div className="steps no-print">
              {parcel.steps.map((step) => (
                <button key={step} type="button" className="button" onClick={() => setOpen({ parcel, step })}>
                  {t(`arrival.step.${step}`)}
                </button>
              ))}
            </div>
          </li>
        ))}
      </ul>
      {open && <Place {...open} onClose={() => setOpen(null)} onDone={() => void query.refetch()} />}
    </Section>
  );
}

interface Placing {
  parcel: UnexpectedParcel;
  step: Step;
  onClose: () => void;
  onDone: () => void;
}

function Place({ parcel, step, onClose, onDone }: Placing) {
  const t = useTranslate();
  const orders = useRead<{ items: OrderSummary[] }>(
    `/orders?state=open&sort=due&perPage=100&clinicId=${parcel.clinic.id}`,
    step === 'match',
  );
  return (
    <StepDialog<UnexpectedParcel>
      title={t(`arrival.step.${step}`)}
      consequence={t(`arrival.step_consequence.${step}`)}
      schema={step === 'match' ? MatchParcel : ReasonedStep}
      path={`/parcels/${parcel.id}/${step}`}
      defaults={{ version: parcel.version, why: '', ...(step === 'match' ? { orderId: '' } : {}) }}
      done="arrival.placed"
      onClose={onClose}
      onDone={onDone}
    >
      {step === 'match' && (
        <SelectField
          name="orderId"
          label={t('arrival.order_number')}
          placeholder={t('arrival.which_order')}
          choices={(orders.data?.items ?? []).map((order) => ({
            value: order.id,
            label: `${order.number} · ${order.case.codeName} · ${order.maker.name}`,
          }))}
        />
      )}
      <TextField name="why" label={t('common.why')} long />
    </StepDialog>
  );
}
