import { useTranslate } from 'react-admin';
import { ConsiderEvent, eventDecisions, type CaseDetail } from '@lensferry/contracts';
import { ContractForm } from '../../shared/forms/ContractForm';
import { ChoiceField, TextField } from '../../shared/forms/fields';
import type { CaseFormProps } from '../CaseDialogs';

/** Whether a lens that was taken out is to be reported: what may be asked in general, and what was decided here. */
export default function ConsiderForm({ of, close }: CaseFormProps) {
  const t = useTranslate();
  const one = of.implantations.find(({ explantedOn, consideration }) => explantedOn && !consideration);
  if (!one) return <p>{t('event.nothing')}</p>;
  return (
    <ContractForm<CaseDetail>
      schema={ConsiderEvent}
      path={`/cases/${of.id}/considered-event`}
      defaults={{ implantationId: one.id }}
      answers="cases"
      done="event.done"
      onDone={close}
      onCancel={close}
      submitLabel={t('event.keep')}
    >
      <p>
        {t('lens.one')} <span className="mono strong">{one.serial}</span>
        {one.explantWhy && `: ${t(`exchange.reason.${one.explantWhy}`)}`}
      </p>
      <div className="note">
        <p>{t('event.general')}</p>
        <p>{t('event.no_advice')}</p>
      </div>
      <ChoiceField
        name="decision"
        label={t('event.decision')}
        choices={eventDecisions.map((value) => ({ value, label: t(`event.decided.${value}`) }))}
      />
      <TextField name="reference" label={t('event.reference')} hint={t('event.reference_hint')} mono />
      <TextField name="why" label={t('common.why')} long />
    </ContractForm>
  );
}
