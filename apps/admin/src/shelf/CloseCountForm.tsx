import { useTranslate } from 'react-admin';
import { useWatch } from 'react-hook-form';
import { countExplanations } from '@lensferry/domain';
import { CloseCount, type CountFinding, type StockCountDetail } from '@lensferry/contracts';
import { ContractForm } from '../shared/forms/ContractForm';
import { SelectField, TextField } from '../shared/forms/fields';
import { OnRecord } from './CountFindings';

interface Props {
  count: StockCountDetail;
  onCancel: () => void;
  onDone: () => void;
}

/** Every difference with what explains it; a count without any is closed as it is. */
export function CloseCountForm({ count, onCancel, onDone }: Props) {
  const t = useTranslate();
  return (
    <section className="card card--padded form" aria-labelledby="close-count">
      <h2 id="close-count">{t('count.close')}</h2>
      <p>{t(count.findings.length === 0 ? 'count.close_clean' : 'count.close_lead')}</p>
      <ContractForm<StockCountDetail>
        schema={CloseCount}
        path={`/stock-counts/${count.id}/close`}
        defaults={{
          version: count.version,
          explanations: count.findings.map(({ serial }) => ({ serial, explanation: '', why: '' })),
        }}
        done="count.closed"
        onDone={onDone}
        onCancel={onCancel}
        submitLabel={t('count.close')}
      >
        {count.findings.map((finding, i) => (
          <Explain key={finding.serial} finding={finding} at={`explanations.${i}`} />
        ))}
      </ContractForm>
    </section>
  );
}

function Explain({ finding, at }: { finding: CountFinding; at: string }) {
  const t = useTranslate();
  const explanation = useWatch({ name: `${at}.explanation` }) as string;
  return (
    <fieldset className="count__explain">
      <legend>
        <span className="mono strong">{finding.serial}</span> {t(`count.kind.${finding.kind}`)} ·{' '}
        <OnRecord of={finding} />
      </legend>
      <SelectField
        name={`${at}.explanation`}
        label={t('count.explained')}
        placeholder={t('count.choose')}
        choices={countExplanations[finding.kind].map((value) => ({
          value,
          label: t(`count.explanation.${value}`),
        }))}
      />
      {explanation === 'stands_elsewhere' && (
        <TextField name={`${at}.location`} label={t('count.stands_where')} hint={t('arrival.place_hint')} />
      )}
      <TextField name={`${at}.why`} label={t('common.why')} />
    </fieldset>
  );
}
