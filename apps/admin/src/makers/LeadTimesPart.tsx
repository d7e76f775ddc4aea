import { useTranslate } from 'react-admin';
import type { ArrivalCurve, CountedShare, MakerLeadTimes } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { DoubtBar } from '../shared/drawing/DoubtBar';
import { useFormat } from '../shared/format/use-format';
import { Answer, Empty } from '../shared/parts/Answer';
import { Section } from '../shared/parts/Page';
import { ArrivalPicture, said } from './ArrivalPicture';

/** How a maker delivers: its arrivals by class, its promises, and how far its forecasts could be believed. */
export function LeadTimesPart({ makerId }: { makerId: string }) {
  const t = useTranslate();
  const query = useRead<MakerLeadTimes>(`/makers/${makerId}/lead-times`);
  return (
    <Answer query={query}>
      {(times) => (
        <>
          <Section title={t('maker.curve.title')} note={t('maker.curve.note')}>
            {times.all === null ? (
              <Empty title={t('maker.curve.none')}>{t('maker.curve.none_hint')}</Empty>
            ) : (
              <ul className="grid-cards">
                <Curve title={t('maker.curve.all')} curve={times.all} />
                {times.classes.length > 1 &&
                  times.classes.map(({ quotedWorkingDays, designs, curve }) => (
                    <Curve
                      key={quotedWorkingDays}
                      title={t('maker.curve.class', {
                        smart_count: quotedWorkingDays,
                        designs: designs.join(', '),
                      })}
                      curve={curve}
                    />
                  ))}
              </ul>
            )}
          </Section>
          <Section title={t('maker.word')}>
            <dl className="facts card card--padded">
              <Share name={t('maker.promises')} of={times.promisesKept} />
              <Share name={t('maker.calibration')} of={times.calibration} />
              <Share name={t('maker.declined')} of={times.declined} />
              <Share name={t('maker.quarantined')} of={times.quarantined} />
              <Share name={t('maker.exchanged')} of={times.exchanged} />
            </dl>
          </Section>
        </>
      )}
    </Answer>
  );
}

function Curve({ title, curve }: { title: string; curve: ArrivalCurve }) {
  const t = useTranslate();
  return (
    <li className="card card--padded form">
      <h3>{title}</h3>
      <ArrivalPicture curve={curve} title={title} />
      <p className="muted small">{said(t, curve)}</p>
    </li>
  );
}

function Share({ name, of }: { name: string; of: CountedShare | null }) {
  const t = useTranslate();
  const format = useFormat();
  const limits = of && t('maker.limits', { low: format.percent(of.low), high: format.percent(of.high) });
  return (
    <>
      <dt>{name}</dt>
      <dd>
        {of === null || limits === null ? (
          t('maker.too_few')
        ) : (
          <>
            {t('maker.kept', { kept: format.whole(Math.round(of.count)), of: of.of })}{' '}
            <span className="muted">{limits}</span>
            <DoubtBar low={of.low} middle={of.share} high={of.high} min={0} max={1} label={limits} />
          </>
        )}
      </dd>
    </>
  );
}
