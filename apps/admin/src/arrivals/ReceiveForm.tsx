import { useState } from 'react';
import { useStore, useTranslate } from 'react-admin';
import {
  ReceiveLens,
  type ArrivalReading,
  type LabelEntry,
  type OrderDetail,
  type OrderSummary,
} from '@lensferry/contracts';
import { ContractForm } from '../shared/forms/ContractForm';
import { TextField } from '../shared/forms/fields';
import { useReason } from './say';

interface Props {
  reading: ArrivalReading;
  order: OrderSummary;
  label: LabelEntry;
  onDone: (accepted: boolean) => void;
}

/** Takes the lens in: accepted only on a match; quarantine, with its reason, is always open. */
export function ReceiveForm({ reading, order, label, onDone }: Props) {
  const t = useTranslate();
  const [place, setPlace] = useStore('arrivals.place', '');
  const [aside, setAside] = useState(false);
  const reasonOf = useReason();
  const accept = reading.verdict === 'match' && !aside;
  if (reading.verdict === 'incomplete' && !aside)
    return (
      <button type="button" className="button button--text" onClick={() => setAside(true)}>
        {t('arrival.quarantine_anyway')}
      </button>
    );
  return (
    <section
      className="card card--padded form arrivals__take"
      aria-label={t(accept ? 'arrival.accept' : 'arrival.quarantine')}
    >
      <ContractForm<OrderDetail>
        key={String(accept)}
        schema={ReceiveLens}
        path={`/orders/${order.id}/receive`}
        defaults={{
          label,
          outcome: accept ? 'accept' : 'quarantine',
          location: place,
          why: accept ? undefined : reasonOf(reading),
        }}
        shape={(values) => {
          setPlace(String(values['location'] ?? ''));
          return values;
        }}
        answers="orders"
        onDone={() => onDone(accept)}
        grave={!accept}
        submitLabel={t(accept ? 'arrival.accept' : 'arrival.quarantine')}
      >
        <TextField
          name="location"
          label={t(accept ? 'arrival.place' : 'arrival.quarantine_place')}
          hint={t('arrival.place_hint')}
          autoFocus
        />
        {accept && reading.shortExpiry && (
          <p className="note note--amber">{t('arrival.short_expiry', { why: reading.shortExpiry })}</p>
        )}
        {(!accept || reading.shortExpiry) && <TextField name="why" label={t('common.why')} long />}
      </ContractForm>
      {reading.verdict === 'match' && (
        <button type="button" className="button button--text" onClick={() => setAside(!aside)}>
          {t(aside ? 'arrival.accept_after_all' : 'arrival.quarantine_anyway')}
        </button>
      )}
    </section>
  );
}
