import { useState } from 'react';
import { useStore, useTranslate } from 'react-admin';
import {
  ReceiveLens,
  type ArrivalReading,
  type LabelEntry,
  type OrderDetail,
  type OrderSummary,
} from '@lensferry/contracts';
import { lensOwners } from '@lensferry/domain';
import { ContractForm } from '../shared/forms/ContractForm';
import { SelectField, TextField } from '../shared/forms/fields';
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
  const [damaged, setDamaged] = useState(false);
  const reasonOf = useReason();
  const accept = reading.verdict === 'match' && !aside && !damaged;
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
        key={`${accept} ${damaged}`}
        schema={ReceiveLens}
        path={`/orders/${order.id}/receive`}
        defaults={{
          label,
          outcome: accept ? 'accept' : damaged ? 'damaged' : 'quarantine',
          owner: 'clinic',
          location: place,
          why: accept ? undefined : damaged ? '' : reasonOf(reading),
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
        <SelectField
          name="owner"
          label={t('arrival.owner')}
          placeholder={t('arrival.owner')}
          choices={lensOwners.map((owner) => ({ value: owner, label: t(`lens.owner.${owner}`) }))}
        />
        {damaged && <p className="note note--brick">{t('arrival.damaged_hint')}</p>}
        {accept && reading.shortExpiry && (
          <p className="note note--amber">{t('arrival.short_expiry', { why: reading.shortExpiry })}</p>
        )}
        {(!accept || reading.shortExpiry) && <TextField name="why" label={t('common.why')} long />}
      </ContractForm>
      <label className="check">
        <input type="checkbox" checked={damaged} onChange={() => setDamaged(!damaged)} />{' '}
        {t('arrival.damaged')}
      </label>
      {reading.verdict === 'match' && !damaged && (
        <button type="button" className="button button--text" onClick={() => setAside(!aside)}>
          {t(aside ? 'arrival.accept_after_all' : 'arrival.quarantine_anyway')}
        </button>
      )}
    </section>
  );
}
