import { useId, useState } from 'react';
import { useTranslate } from 'react-admin';
import { eyes } from '@lensferry/domain';
import { ChoiceRow } from '../shared/forms/ChoiceRow';
import { labelFields } from './label';
import { useSay } from './say';
import type { Arrival } from './use-arrival';

const units: Record<string, string> = { sphereD: 'D', cylinderD: 'D', axisDeg: '°', lengthMm: 'mm' };

/** What stands on the pack and in no code: typed blind, never filled in from the order. */
export function LabelFields({ arrival }: { arrival: Arrival }) {
  const t = useTranslate();
  const { typed, setTyped, wrong, reading } = arrival;
  const say = useSay();
  const missing = reading.data?.missing ?? [];
  const [opened, setOpened] = useState(false);
  const open =
    opened || missing.length > 0 || reading.data?.verdict === 'incomplete' || reading.error !== null;
  if (!open)
    return (
      <button type="button" className="button button--text" onClick={() => setOpened(true)}>
        {t('arrival.no_code')}
      </button>
    );
  return (
    <form
      className="card card--padded form"
      aria-label={t('arrival.typed')}
      onSubmit={(event) => {
        event.preventDefault();
        arrival.read();
      }}
    >
      {reading.data?.verdict === 'incomplete' && <p className="note note--amber">{say(reading.data)}</p>}
      <p className="muted small">{t('arrival.blind')}</p>
      <ChoiceRow
        legend={name('eye')}
        name="eye"
        value={typed.eye}
        choices={eyes.map((value) => ({ value, label: t(`eye.${value}`) }))}
        onChange={(eye) => setTyped({ ...typed, eye })}
        wrong={wrong.includes('eye') ? t('form.choose') : undefined}
      />
      <div className="form__row">
        {labelFields
          .filter((field) => field !== 'eye')
          .map((field) => (
            <LabelField
              key={field}
              field={field}
              label={name(field)}
              value={typed[field] ?? ''}
              wrong={wrong.includes(field)}
              onChange={(value) => setTyped({ ...typed, [field]: value })}
            />
          ))}
      </div>
      <button className="button">{t('arrival.compare')}</button>
    </form>
  );

  function name(field: string): string {
    return missing.includes(field) ? `${t(`field.${field}`)} · ${t('measure.needed')}` : t(`field.${field}`);
  }
}

interface FieldProps {
  field: string;
  label: string;
  value: string;
  wrong: boolean;
  onChange: (value: string) => void;
}

function LabelField({ field, label, value, wrong, onChange }: FieldProps) {
  const t = useTranslate();
  const id = useId();
  return (
    <div className={wrong ? 'field field--wrong' : 'field'}>
      <label className="field__label" htmlFor={id}>
        {label}
      </label>
      <span className="field__box">
        <input
          id={id}
          name={field}
          className="field__input mono"
          type={field === 'expiresOn' ? 'date' : 'text'}
          autoComplete="off"
          spellCheck={false}
          value={value}
          aria-invalid={wrong}
          onChange={(event) => onChange(event.target.value)}
        />
        {units[field] && <span className="field__unit">{units[field]}</span>}
      </span>
      {wrong && <span className="field__wrong">{t('form.wrong')}</span>}
    </div>
  );
}
