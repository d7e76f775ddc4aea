import { useTranslate } from 'react-admin';
import type { PlanChoice, PlanResult } from '@lensferry/contracts';
import { DoubtBar } from '../shared/drawing/DoubtBar';
import { useFormat } from '../shared/format/use-format';
import { LensText } from '../shared/parts/LensText';
import { Pill } from '../shared/parts/Pill';
import { sameLens } from './same-lens';
import { agree, type WhatIf } from './what-if';

/** The refraction that would be left, as numbers with their doubt; and whether the server says the same. */
export function WhatIfNumbers({
  found,
  result,
  choice,
}: {
  found: WhatIf;
  result: PlanResult;
  choice: PlanChoice;
}) {
  const t = useTranslate();
  const format = useFormat();
  const { sphericalEquivalentD: se, cylinderD, withinHalfD, withinOneD } = found.outcome;
  const served = result.options.find((option) => sameLens(option, choice));
  const span = Math.max(2, Math.abs(se.p10), Math.abs(se.p90), Math.abs(cylinderD.p10)) * 1.1;
  const spread = (name: string, { p10, p50, p90 }: typeof se) => (
    <tr>
      <th scope="row">{t(name)}</th>
      <td className="plan__spread">
        <DoubtBar
          low={p10}
          middle={p50}
          high={p90}
          min={-span}
          max={span}
          label={t('plan.eight_in_ten', { range: format.diopterRange(p10, p90) })}
        >
          <span className="plan__zero" />
        </DoubtBar>
      </td>
      <td className="mono nowrap">{format.diopterRange(p10, p90)}</td>
    </tr>
  );
  return (
    <div className="card card--padded plan__numbers" aria-live="polite">
      <dl className="facts">
        <dt>{t('plan.ideal')}</dt>
        <dd>
          <LensText lens={found.ideal} />
        </dd>
        <dt>{t('plan.would_leave')}</dt>
        <dd>
          <LensText lens={found.predicted} />{' '}
          <span className="muted">
            {t('plan.within_both', { half: format.percent(withinHalfD), one: format.percent(withinOneD) })}
          </span>
        </dd>
      </dl>
      <table className="plan__spreads">
        <tbody>
          {spread('plan.se', se)}
          {spread('plan.cylinder_left', cylinderD)}
        </tbody>
      </table>
      <p className="muted small">
        {served &&
          (agree(served.predicted, found.predicted) ? (
            <>
              <Pill tone="moss">{t('plan.agrees')}</Pill> {t('plan.agrees_note')}
            </>
          ) : (
            <>
              <Pill tone="amber">{t('plan.differs')}</Pill>{' '}
              {t('plan.differs_note', { served: format.lens(served.predicted) })}
            </>
          ))}
        {!served && t('plan.server_decides')}
      </p>
    </div>
  );
}
