import { useTranslate } from 'react-admin';
import { eyeInCapitals } from '@lensferry/domain';
import { RecordImplantation, type CaseDetail } from '@lensferry/contracts';
import { ContractForm } from '../../shared/forms/ContractForm';
import { ChoiceField, DateField, NumberField, TextField } from '../../shared/forms/fields';
import { useFormat, useToday } from '../../shared/format/use-format';
import { UnitLens } from '../../shelf/UnitLens';
import { lensInEye } from '../eye-numbers';
import type { CaseFormProps } from '../CaseDialogs';

/** Records what was done in theatre. The serial is read off the pack once more, so it is never filled in. */
export default function ImplantForm({ of, close }: CaseFormProps) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday(of.clinic.timeZone);
  const reserved = of.lenses.filter(({ state }) => state === 'reserved');
  const [lens] = reserved;
  const before = lensInEye(of);
  if (!lens) return <p>{t('implant.no_lens')}</p>;
  return (
    <ContractForm<CaseDetail>
      schema={RecordImplantation}
      path={`/cases/${of.id}/implantation`}
      defaults={{
        version: of.version,
        // Of two sizes at hand the person says which went in.
        lensId: reserved.length === 1 ? lens.id : undefined,
        performedOn: today,
      }}
      answers="cases"
      done="implant.done"
      onDone={close}
      onCancel={close}
      submitLabel={t('implant.record')}
    >
      <div className="note">
        <p className="strong">{t(`eye.capitals.${eyeInCapitals[of.eye]}`)}</p>
        {reserved.map((one) => (
          <div key={one.id}>
            <p className="mono">
              <UnitLens of={one} />
            </p>
            <p>{t('implant.location', { place: one.location })}</p>
          </div>
        ))}
      </div>
      {reserved.length > 1 && (
        <ChoiceField
          name="lensId"
          label={t('implant.which')}
          choices={reserved.map(({ id, lens: { lengthMm } }) => ({
            value: id,
            label: lengthMm === null ? '–' : format.mm(lengthMm),
          }))}
        />
      )}
      {before && <p className="note note--amber">{t('implant.takes_out', { serial: before.serial })}</p>}
      <TextField name="serial" label={t('implant.serial')} hint={t('implant.serial_hint')} mono autoFocus />
      <div className="form__row">
        <DateField name="performedOn" label={t('implant.date')} max={today} />
        <NumberField name="axisDeg" label={t('implant.axis')} unit="°" hint={t('implant.axis_hint')} />
      </div>
    </ContractForm>
  );
}
