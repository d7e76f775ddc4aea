import { useTranslate } from 'react-admin';
import { useWatch } from 'react-hook-form';
import { measurementKinds, type Field, type MeasurementKind } from '@lensferry/domain';
import { ChoiceField, DateField, NumberField, TextField } from '../shared/forms/fields';
import { useFormat } from '../shared/format/use-format';
import { keptForm } from './kept-form';

interface Props {
  kind: MeasurementKind;
  /** Where the measurement lies in the form: `measurement.` in a correction. */
  prefix: string;
  today: string;
}

export function MeasurementFields({ kind, prefix, today }: Props) {
  const t = useTranslate();
  const fields: readonly Field[] = measurementKinds[kind];
  return (
    <>
      {fields
        .filter(({ type }) => type === 'choice')
        .map((field) => (
          <OneField key={field.name} field={field} prefix={prefix} />
        ))}
      <div className="form__row">
        {fields
          .filter(({ type }) => type !== 'choice')
          .map((field) => (
            <OneField key={field.name} field={field} prefix={prefix} />
          ))}
      </div>
      {kind === 'refraction' && <KeptAs prefix={prefix} />}
      <div className="form__row">
        <DateField name={`${prefix}takenOn`} label={t('field.takenOn')} max={today} />
        <TextField name={`${prefix}device`} label={t('field.device')} />
      </div>
    </>
  );
}

function OneField({ field, prefix }: { field: Field; prefix: string }) {
  const t = useTranslate();
  const format = useFormat();
  const name = `${prefix}values.${field.name}`;
  const own = t(`field.${field.name}`);
  const label = field.required
    ? own
    : t(field.name === 'axisDeg' ? 'measure.with_cylinder' : 'form.optional', { label: own });
  if (field.type === 'date') return <DateField name={name} label={label} />;
  if (field.type === 'choice')
    return (
      <ChoiceField
        name={name}
        label={label}
        choices={field.choices.map((value) => ({ value, label: t(`choice.${value.replaceAll('.', '_')}`) }))}
      />
    );
  const unit =
    field.unit === 'decimal'
      ? t('unit.decimal')
      : field.unit === 'Shaffer grade'
        ? t('unit.shaffer')
        : field.unit;
  return (
    <NumberField
      name={name}
      label={label}
      unit={unit}
      hint={t('form.range', { min: format.plain(field.min), max: format.plain(field.max) })}
    />
  );
}

/** Shows a refraction as it will be kept, whichever form it was typed in. */
function KeptAs({ prefix }: { prefix: string }) {
  const t = useTranslate();
  const format = useFormat();
  const values = useWatch({ name: `${prefix}values` }) as Record<string, number | undefined> | undefined;
  const kept = keptForm(values?.['sphereD'], values?.['cylinderD'], values?.['axisDeg']);
  return (
    <p className="note" role="status">
      {kept ? (
        <>
          {t('measure.kept_as')} <span className="mono strong">{format.lens(kept)}</span>
        </>
      ) : (
        t('measure.either_form')
      )}
    </p>
  );
}
