import { useTranslate } from 'react-admin';
import { VAULT_BANDS } from '@lensferry/calculation';
import type { CaseDetail, PlanRecord } from '@lensferry/contracts';
import { SizeBars } from '../shared/drawing/SizeBars';
import { Empty } from '../shared/parts/Answer';
import { Findings } from '../shared/parts/Finding';
import { Section } from '../shared/parts/Page';
import { OptionsTable } from '../plan/OptionsTable';
import { sameLens } from '../plan/same-lens';
import { AfterSurgery } from './AfterSurgery';
import { EyePictures } from './EyePictures';
import { lensInEye, numbersOf } from './eye-numbers';

/** The pictures and numbers of a case: the eye, what each size would do, what each lens would leave. */
export function Overview({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const input = numbersOf(of);
  const plan = of.plans.at(-1);
  if (input === null)
    return (
      <Empty title={t('case.nothing_to_draw')}>
        <p>{t('case.still_missing', { missing: of.missing.map((kind) => t(`kind.${kind}`)).join(', ') })}</p>
        {of.actions.includes('measure') && (
          <a className="button" href={`/cases/${of.id}/measure`}>
            {t('step.case.measure')}
          </a>
        )}
      </Empty>
    );
  return (
    <>
      <EyePictures of={of} input={input} />
      {lensInEye(of) && <AfterSurgery of={of} />}
      {plan && <PlanPart of={of} plan={plan} />}
    </>
  );
}

function PlanPart({ of, plan }: { of: CaseDetail; plan: PlanRecord }) {
  const t = useTranslate();
  const { result, choice } = plan;
  const sizing =
    result.sizing.find(({ designVersionId }) => designVersionId === choice.designVersionId) ??
    result.sizing[0];
  const inEye = lensInEye(of);
  const check = of.vaultChecks.filter(({ lensId }) => lensId === inEye?.lensId).at(-1);
  const measured = inEye && check ? { lengthMm: inEye.lens.lengthMm, vaultUm: check.vaultUm } : null;
  return (
    <>
      {sizing && (
        <Section title={t('draw.sizes_title')} note={t('draw.sizes_note')}>
          <SizeBars
            sizes={sizing.sizes}
            chosenMm={choice.lengthMm}
            band={{ lowUm: VAULT_BANDS.lowBelowUm, highUm: VAULT_BANDS.highAboveUm }}
            measured={measured}
          />
        </Section>
      )}
      <Section title={t('plan.lenses')} note={t('plan.number', { number: plan.number, by: plan.madeBy })}>
        <OptionsTable
          options={[plan.chosen, ...result.options.filter((option) => !sameLens(option, choice))].slice(0, 6)}
          chosen={choice}
          compact
        />
      </Section>
    </>
  );
}

/** Findings of the latest plan beside the next step. */
export function SideFindings({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const plan = of.plans.at(-1);
  if (!plan || plan.result.findings.length === 0) return null;
  return (
    <section className="case__findings" aria-labelledby="findings">
      <h2 id="findings">{t('plan.findings')}</h2>
      <Findings findings={plan.result.findings} fold />
    </section>
  );
}
