import { useTranslate } from 'react-admin';
import { VAULT_BANDS } from '@lensferry/calculation';
import type { PlanRecord } from '@lensferry/contracts';
import { SizeBars } from '../shared/drawing/SizeBars';
import { useFormat } from '../shared/format/use-format';
import { Findings } from '../shared/parts/Finding';
import { LensText } from '../shared/parts/LensText';
import { Section } from '../shared/parts/Page';

/** A plan on record, to be read: what it leaves and how sure that is, what each size would do, its findings. */
export function PlanSummary({ plan }: { plan: PlanRecord }) {
  const t = useTranslate();
  const format = useFormat();
  const { result, choice, chosen } = plan;
  const sizing = result.sizing.find(({ designVersionId }) => designVersionId === choice.designVersionId);
  return (
    <>
      <Section
        title={t('plan.what_it_leaves')}
        note={t('plan.number', { number: plan.number, by: plan.madeBy })}
      >
        <dl className="facts card card--padded">
          {result.offset && choice.offset && (
            <>
              <dt>{t('offset.planned_with')}</dt>
              <dd>
                <b>
                  {t('offset.parts', {
                    mean: format.dioptres(result.offset.mean.estimateD),
                    j0: format.dioptres(result.offset.j0.estimateD),
                    j45: format.dioptres(result.offset.j45.estimateD),
                    smart_count: result.offset.n,
                  })}
                </b>{' '}
                {choice.offset.why}
              </dd>
            </>
          )}
          <dt>{t('plan.ideal')}</dt>
          <dd>
            <LensText lens={result.idealLens} />
          </dd>
          <dt>{t('plan.chosen_lens')}</dt>
          <dd>
            <LensText lens={choice} lengthMm={choice.lengthMm} />
          </dd>
          <dt>{t('plan.would_leave')}</dt>
          <dd>
            <LensText lens={chosen.predicted} />
          </dd>
          <dt>{t('plan.se')}</dt>
          <dd>
            {t('plan.eight_in_ten', {
              range: format.diopterRange(chosen.sphericalEquivalentD.p10, chosen.sphericalEquivalentD.p90),
            })}
          </dd>
          <dt>{t('plan.cylinder_left')}</dt>
          <dd>
            {t('plan.eight_in_ten', {
              range: format.diopterRange(chosen.cylinderLeftD.p10, chosen.cylinderLeftD.p90),
            })}
          </dd>
          <dt>{t('plan.within')}</dt>
          <dd>
            {t('plan.within_both', {
              half: format.percent(chosen.withinHalfD),
              one: format.percent(chosen.withinOneD),
            })}
          </dd>
        </dl>
      </Section>
      {sizing && (
        <Section title={t('draw.sizes_title')} note={t('draw.sizes_note')}>
          <SizeBars
            sizes={sizing.sizes}
            chosenMm={choice.lengthMm}
            band={{ lowUm: VAULT_BANDS.lowBelowUm, highUm: VAULT_BANDS.highAboveUm }}
          />
        </Section>
      )}
      <Section title={t('plan.findings')}>
        <Findings findings={result.findings} />
      </Section>
    </>
  );
}
