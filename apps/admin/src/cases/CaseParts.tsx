import { useTranslate } from 'react-admin';
import type { CaseDetail } from '@lensferry/contracts';
import { OrderTable } from '../orders/OrderTable';
import { ConsideredEvent } from './ConsideredEvent';
import { ExchangePicture } from '../exchanges/ExchangePicture';
import { LensTable } from '../shelf/LensTable';
import { useFormat } from '../shared/format/use-format';
import { Empty } from '../shared/parts/Answer';
import { History } from '../shared/parts/History';
import { LensText } from '../shared/parts/LensText';
import { Section } from '../shared/parts/Page';
import { Moment, When } from '../shared/parts/When';

export function CaseOrders({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  if (of.orders.length === 0) return <Empty title={t('case.no_orders')}>{t('case.no_orders_hint')}</Empty>;
  return (
    <Section title={t('case.part.orders')}>
      <div className="list-page">
        <OrderTable orders={[...of.orders].reverse()} withCase={false} />
      </div>
    </Section>
  );
}

/** Every lens of the eye: which lies where, what was taken out and why. */
export function CaseLenses({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const format = useFormat();
  const zone = of.clinic.timeZone;
  if (of.lenses.length === 0) return <Empty title={t('case.no_lenses')}>{t('case.no_lenses_hint')}</Empty>;
  return (
    <>
      {of.implantations.length > 0 && (
        <Section title={t('case.in_the_eye')}>
          <ol className="card card--padded form">
            {[...of.implantations].reverse().map((one) => (
              <li key={one.id}>
                <a className="mono strong" href={`/lenses/${one.lensId}`}>
                  {one.serial}
                </a>{' '}
                <LensText lens={one.lens} lengthMm={one.lens.lengthMm} />
                <p className="muted">
                  {t('case.implanted_on')} <When date={one.performedOn} zone={zone} />,{' '}
                  {t('case.at_axis', { axis: format.degrees(one.axisDeg) })}, {one.surgeonName}
                </p>
                {one.explantedOn && (
                  <p>
                    {t('case.explanted_on')} <When date={one.explantedOn} zone={zone} />
                    {one.explantWhy && `: ${t(`exchange.reason.${one.explantWhy}`)}`}
                  </p>
                )}
                {one.explantedOn && <ConsideredEvent of={of} one={one} />}
              </li>
            ))}
          </ol>
        </Section>
      )}
      {of.exchanges.map((exchange) => (
        <Section
          key={exchange.id}
          title={t('exchange.of_round', { round: exchange.round })}
          note={t(`exchange.reason.${exchange.reason}`)}
        >
          <p>
            {exchange.note}{' '}
            <span className="muted">
              ({exchange.openedBy}, <Moment at={exchange.openedAt} zone={zone} />)
            </span>
          </p>
          {exchange.endedAt && (
            <p className="muted">
              {t('exchange.ended')} <Moment at={exchange.endedAt} zone={zone} />
              {exchange.endedWhy && `: ${exchange.endedWhy}`}
            </p>
          )}
          <ExchangePicture proposal={exchange.proposal} />
        </Section>
      ))}
      <Section title={t('case.part.lenses')}>
        <div className="list-page">
          <LensTable lenses={of.lenses} withCase={false} />
        </div>
      </Section>
    </>
  );
}

export function CaseHistory({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  return (
    <Section title={t('case.part.history')}>
      <History entries={of.history} zone={of.clinic.timeZone} />
    </Section>
  );
}
