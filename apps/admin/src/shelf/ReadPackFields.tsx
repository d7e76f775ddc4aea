import { useTranslate } from 'react-admin';
import { eyes } from '@lensferry/domain';
import type { LensSummary } from '@lensferry/contracts';
import { ChoiceField, NumberField, TextField } from '../shared/forms/fields';

const units = { sphereD: 'D', cylinderD: 'D', axisDeg: '°', lengthMm: 'mm' } as const;

/** The fields of a pack that nobody has read yet, blind, under its serial. */
export function ReadPackFields({ unread }: { unread: LensSummary['unread'] }) {
  const t = useTranslate();
  return (
    <>
      <TextField name="serial" label={t('field.serial')} hint={t('arrival.blind')} mono autoFocus />
      {unread.map((field) =>
        field === 'eye' ? (
          <ChoiceField
            key={field}
            name={field}
            label={t('field.eye')}
            choices={eyes.map((value) => ({ value, label: t(`eye.${value}`) }))}
          />
        ) : (
          <NumberField key={field} name={field} label={t(`field.${field}`)} unit={units[field]} />
        ),
      )}
    </>
  );
}
