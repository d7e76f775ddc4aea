import { writeAcuity, logMarFromDecimal } from '@lensferry/calculation';
import { useGetOne, useLocaleState, useTranslate } from 'react-admin';
import type { CaseDetail } from '@lensferry/contracts';
import { eyeInCapitals } from '@lensferry/domain';
import { useFormat } from '../shared/format/use-format';
import { Answer, Empty } from '../shared/parts/Answer';
import { Page } from '../shared/parts/Page';
import { DoubtBar } from '../shared/drawing/DoubtBar';

/** One page for the patient in plain words: what this eye may expect, and what nobody promises. */
export function PatientSheet({ caseId }: { caseId: string }) {
  const t = useTranslate();
  const language = useLocaleState()[0].startsWith('de') ? 'de' : 'en';
  const query = useGetOne<CaseDetail>('cases', { id: caseId });
  return (
    <Page
      title={t('outcome.sheet.title')}
      lead={query.data && `${query.data.codeName} · ${t(`eye.capitals.${eyeInCapitals[query.data.eye]}`)}`}
      actions={
        <div className="steps">
          <button type="button" className="button button--filled" onClick={() => window.print()}>
            {t('common.print')}
          </button>
          <a className="button" href={`/api/cases/${caseId}/patient-sheet.pdf?language=${language}`} download>
            {t('outcome.sheet.pdf')}
          </a>
          <a className="button" href={`/cases/${caseId}`}>
            {t('common.back_to_case')}
          </a>
        </div>
      }
    >
      <Answer query={query}>{(of) => <Sheet of={of} />}</Answer>
    </Page>
  );
}

/** Acuity with spectacles, as last measured before surgery. */
function spectaclesOf(of: CaseDetail): string | null {
  const operated = of.implantations[0]?.performedOn ?? '9999';
  const values = of.measurements
    .filter(({ kind, corrected, takenOn }) => kind === 'refraction' && !corrected && takenOn <= operated)
    .map(({ values: { correctedDecimal } }) => correctedDecimal)
    .filter((value) => typeof value === 'number');
  const last = values.at(-1);
  return last === undefined ? null : writeAcuity(logMarFromDecimal(last), 'metres');
}

function Sheet({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const format = useFormat();
  const plan = of.plans.at(-1);
  if (plan === undefined)
    return <Empty title={t('outcome.sheet.no_plan')}>{t('outcome.sheet.no_plan_hint')}</Empty>;
  const { withinHalfD, withinOneD, sphericalEquivalentD: range } = plan.chosen;
  const spectacles = spectaclesOf(of);
  const inTen = (share: number) => Math.round(share * 10);
  return (
    <article className="card card--padded sheet">
      <h2>{t('outcome.sheet.what')}</h2>
      <p>{t('outcome.sheet.what_text')}</p>
      <h2>{t('outcome.sheet.expect')}</h2>
      {spectacles !== null && <p>{t('outcome.sheet.sight', { acuity: spectacles })}</p>}
      <p>{t('outcome.sheet.chance', { half: inTen(withinHalfD), one: inTen(withinOneD) })}</p>
      <DoubtBar
        low={range.p10}
        middle={range.p50}
        high={range.p90}
        min={Math.min(-2, range.p10 - 0.5)}
        max={Math.max(2, range.p90 + 0.5)}
        label={t('outcome.sheet.range', { range: format.diopterRange(range.p10, range.p90) })}
      />
      <p className="muted">
        {t('outcome.sheet.range', { range: format.diopterRange(range.p10, range.p90) })}
      </p>
      <h2>{t('outcome.sheet.not')}</h2>
      <ul className="sheet__list">
        {['glasses', 'lines', 'exchange', 'keratoconus', 'visits'].map((name) => (
          <li key={name}>{t(`outcome.sheet.nots.${name}`)}</li>
        ))}
      </ul>
      <h2>{t('outcome.sheet.ask')}</h2>
      <p>{t('outcome.sheet.ask_text')}</p>
      <p className="muted">{t('outcome.sheet.foot', { number: plan.number })}</p>
    </article>
  );
}
