import { useTranslate } from 'react-admin';
import { useNavigate } from 'react-router-dom';
import { eyeInCapitals } from '@lensferry/domain';
import { PlanChoice, type CaseDetail, type OrderDetail } from '@lensferry/contracts';
import { ContractForm } from '../shared/forms/ContractForm';
import { TextField } from '../shared/forms/fields';
import { useTellField } from '../shared/format/field-value';
import { useFormat } from '../shared/format/use-format';
import { presentOrder } from '../cases/next-step';
import { changesSince, type DesignChoice } from './choice';

interface Props {
  of: CaseDetail;
  choice: PlanChoice;
  design: DesignChoice | undefined;
}

/** Keeps the plan: the server computes it anew and opens the order, or amends the one that is there. */
export function KeepPlan({ of, choice, design }: Props) {
  const t = useTranslate();
  const format = useFormat();
  const tell = useTellField();
  const navigate = useNavigate();
  const order = presentOrder(of);
  const changes = changesSince(of.plans.at(-1), choice);
  const amends = order?.steps.includes('amend');
  const proposes = order?.steps.includes('propose-change');
  const keep = t(amends ? 'plan.keep_amend' : proposes ? 'plan.keep_change' : 'plan.keep');
  const signed = order?.state === 'approved' || order?.state === 'submitted';
  return (
    <section className="card card--padded next" aria-labelledby="keep-plan">
      <h2 id="keep-plan">{keep}</h2>
      <div className="spec mono wraps">
        <p className="spec__power">
          {t(`eye.side_capitals.${eyeInCapitals[of.eye]}`)} {format.lensOnOrder(choice)}
        </p>
        <p>
          {t('spec.length', { length: format.mm(choice.lengthMm) })} · {design?.maker}, {design?.name}
        </p>
      </div>
      {choice.companionLengthMm !== undefined && (
        <p className="note">{t('companion.beside', { length: format.mm(choice.companionLengthMm) })}</p>
      )}
      {changes.length > 0 && (
        <div>
          <h3>{t('plan.changed')}</h3>
          <ul className="small">
            {changes.map(({ field, before, after }) => (
              <li key={field}>
                {t(`field.${field}`)}: <span className="mono">{tell(field, before)}</span> →{' '}
                <span className="mono strong">{tell(field, after)}</span>
              </li>
            ))}
          </ul>
        </div>
      )}
      {of.plans.at(-1)?.result.offset && !choice.offset && (
        <p className="note note--amber">{t('offset.not_this_time')}</p>
      )}
      {proposes && <p className="note note--amber">{t('plan.proposes')}</p>}
      {amends && signed && <p className="note note--amber">{t('plan.voids')}</p>}
      <ContractForm<OrderDetail>
        key={JSON.stringify(choice)}
        schema={PlanChoice}
        path={`/cases/${of.id}/plans`}
        defaults={choice}
        answers="orders"
        done="plan.kept"
        onDone={() => navigate(`/cases/${of.id}`)}
        wide
        submitLabel={keep}
      >
        {choice.offset && (
          <TextField name="offset.why" label={t('offset.why')} hint={t('offset.why_hint')} long />
        )}
      </ContractForm>
    </section>
  );
}
