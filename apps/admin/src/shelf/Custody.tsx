import { useTranslate } from 'react-admin';
import { lensStates } from '@lensferry/domain';
import type { LensDetail } from '@lensferry/contracts';
import { useTellField } from '../shared/format/field-value';
import { Section } from '../shared/parts/Page';
import { Moment } from '../shared/parts/When';

/** Where a unit has been, latest first: when, in whose hands, from where to where, and why. */
export function Custody({ stations }: { stations: LensDetail['custody'] }) {
  const t = useTranslate();
  const tell = useTellField();
  const told = (value: string) =>
    (lensStates as readonly string[]).includes(value)
      ? t(`lens.state.${value}`)
      : t(`lens.owner.${value}`, { _: value });
  return (
    <Section title={t('lens.custody')}>
      <ol className="history card card--padded">
        {[...stations].reverse().map((station) => (
          <li key={`${station.at} ${station.event}`} className="history__row">
            <span className="muted">
              <Moment at={station.at} />
            </span>
            <div>
              <p>
                <span className="strong">{t(`action.lens.${station.event}`, { _: station.event })}</span> ·{' '}
                {station.actorName}
              </p>
              <p className="history__facts">
                {station.from && `${told(station.from)} → `}
                {told(station.to)}
                {station.place && ` · ${tell('location', station.place)}`}
              </p>
              {station.why && <p>{t('common.because', { why: station.why })}</p>}
            </div>
          </li>
        ))}
      </ol>
    </Section>
  );
}
