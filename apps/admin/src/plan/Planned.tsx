import { useState } from 'react';
import { useTranslate } from 'react-admin';
import type { CaseDetail, OffsetOffer, PlanChoice, PlanResult, SpheroCylinder } from '@lensferry/contracts';
import { Findings } from '../shared/parts/Finding';
import { Section } from '../shared/parts/Page';
import { choiceOf, firstChoice, offsetChosen, plannedInput, type DesignChoice } from './choice';
import { KeepPlan } from './KeepPlan';
import { LensControls } from './LensControls';
import { OffersTable } from './OffersTable';
import { OffsetCard } from './OffsetCard';
import { OptionsTable } from './OptionsTable';
import { TargetControls } from './TargetControls';
import { WhyUnable } from './WhyUnable';
import { WhatIfPictures } from './WhatIfPictures';

/** Another size has another companion: it is chosen anew. */
const withoutCompanion = ({ companionLengthMm: _dropped, ...choice }: PlanChoice): PlanChoice => choice;

interface Props {
  of: CaseDetail;
  designs: readonly DesignChoice[];
  result: PlanResult;
  target: SpheroCylinder;
  onTarget: (target: SpheroCylinder) => void;
  /** What was learned for this eye; undefined where it could not be read, which must not keep anybody from planning. */
  offered: OffsetOffer | undefined;
  withOffset: boolean;
  onOffset: (used: boolean) => void;
}

/** The lens in hand under a target: what it would leave, who makes it, what speaks against it. */
export function Planned({ of, designs, result, target, onTarget, offered, withOffset, onOffset }: Props) {
  const t = useTranslate();
  const last = of.plans.at(-1);
  const [picked, setPicked] = useState<PlanChoice | null>(() => firstChoice(last, result, target));
  const [touched, setTouched] = useState(last !== undefined);
  const choice = touched || !result.options[0] ? picked : choiceOf(result.options[0], result, target);
  const set = (next: PlanChoice) => {
    setTouched(true);
    setPicked(next);
  };
  const design = designs.find(({ id }) => id === choice?.designVersionId);
  return (
    <div className="plan">
      <div className="plan__main">
        <div className="card card--padded plan__controls">
          <TargetControls target={target} onChange={onTarget} />
          {choice && design && (
            <LensControls
              choice={choice}
              design={design}
              designs={designs}
              input={plannedInput(result)}
              onChange={(next) => set(next.lengthMm === choice.lengthMm ? next : withoutCompanion(next))}
            />
          )}
        </div>
        {choice && design ? (
          <WhatIfPictures
            of={of}
            result={result}
            choice={{ ...choice, target }}
            design={design}
            onLength={(lengthMm) => set(withoutCompanion({ ...choice, lengthMm }))}
            onCompanion={(lengthMm) =>
              set(
                lengthMm === undefined
                  ? withoutCompanion(choice)
                  : { ...choice, companionLengthMm: lengthMm },
              )
            }
          />
        ) : (
          <div className="note note--amber">
            <p>{t('plan.nobody_makes')}</p>
            {(result.unable ?? []).map(({ designVersionId, makerName, designName, reasons }) => (
              <div key={designVersionId}>
                <p className="strong">
                  {makerName}, {designName}
                </p>
                <WhyUnable reasons={reasons} />
              </div>
            ))}
          </div>
        )}
        {offered && <OffsetCard offered={offered} used={withOffset} onUse={onOffset} />}
        {of.offers && (
          <Section title={t('offer.title')} note={t('offer.note')}>
            <OffersTable offers={of.offers} unable={of.unable ?? []} zone={of.clinic.timeZone} />
          </Section>
        )}
        <Section title={t('plan.lenses')} note={t('plan.lenses_note')}>
          <OptionsTable
            options={result.options}
            chosen={choice}
            onChoose={(option) => set(choiceOf(option, result, target))}
          />
        </Section>
      </div>
      <aside className="case__side plan__side">
        {choice && (
          <KeepPlan of={of} choice={{ ...choice, target, ...offsetChosen(result) }} design={design} />
        )}
        <section className="case__findings" aria-labelledby="findings">
          <h2 id="findings">{t('plan.findings')}</h2>
          <Findings findings={result.findings} fold />
          <p className="small">
            <a href="/limits">{t('limit.where')}</a>
          </p>
        </section>
      </aside>
    </div>
  );
}
