import { useGetOne, useTranslate } from 'react-admin';
import type { CaseDetail, CaseSummary, Today } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { Answer, Empty, Loading } from '../shared/parts/Answer';
import { CaseName } from '../shared/parts/CaseName';
import { LensText } from '../shared/parts/LensText';
import { Page } from '../shared/parts/Page';
import { Pill } from '../shared/parts/Pill';
import { Moment } from '../shared/parts/When';
import { useWaiting } from '../cases/waiting';
import { VaultRow } from '../today/CaseRows';
import { ExchangePicture } from './ExchangePicture';
import { ExchangeWait } from './ExchangeWait';
import '../today/today.css';
import { UnitLens } from '../shelf/UnitLens';

/** Exchanges under way, and eyes whose vault asks for a look: why, in which size, and how far the new lens is. */
export function ExchangesPage() {
  const t = useTranslate();
  const today = useRead<Today>('/today');
  return (
    <Page title={t('place.exchanges')} lead={t('exchange.lead')}>
      <Answer query={today}>
        {({ exchanges, poorVaults }) => (
          <div className="form">
            {poorVaults.length > 0 && (
              <ul className="card rows" aria-label={t('today.section.poorVaults')}>
                {poorVaults.map(({ case: of, check }) => (
                  <VaultRow key={check.measurementId} of={of} check={check} filled={false} />
                ))}
              </ul>
            )}
            {exchanges.length === 0 && <Empty title={t('exchange.none')}>{t('exchange.none_hint')}</Empty>}
            {exchanges.map((of) => (
              <ExchangeCard key={of.id} of={of} />
            ))}
          </div>
        )}
      </Answer>
    </Page>
  );
}

function ExchangeCard({ of }: { of: CaseSummary }) {
  const t = useTranslate();
  const waiting = useWaiting(of);
  const query = useGetOne<CaseDetail>('cases', { id: of.id });
  const exchange =
    query.data?.exchanges.find(({ endedAt }) => endedAt === null) ?? query.data?.exchanges.at(-1);
  const before = query.data?.lenses.find(({ id }) => id === exchange?.lensId);
  const order = query.data?.orders.filter(({ round }) => round === query.data?.round).at(-1);
  return (
    <section className="card card--padded form exchange" aria-label={`${of.codeName}, ${t(`eye.${of.eye}`)}`}>
      <div className="page__row">
        <div>
          <CaseName of={of} /> <Pill>{t(`stage.${of.stage}`)}</Pill>
          <p className="muted">{waiting}</p>
        </div>
        <a className="button" href={`/cases/${of.id}`}>
          {t('today.act.open_case')}
        </a>
      </div>
      {!exchange && query.isPending && <Loading />}
      {exchange && (
        <>
          <p>
            <span className="strong">{t(`exchange.reason.${exchange.reason}`)}</span> · {exchange.note}{' '}
            <span className="muted">
              ({exchange.openedBy}, <Moment at={exchange.openedAt} zone={of.clinic.timeZone} />)
            </span>
          </p>
          <dl className="facts">
            {before && (
              <>
                <dt>{t('exchange.out')}</dt>
                <dd>
                  <a className="mono" href={`/lenses/${before.id}`}>
                    {before.serial}
                  </a>{' '}
                  <UnitLens of={before} />
                </dd>
              </>
            )}
            {order && (
              <>
                <dt>{t('exchange.in')}</dt>
                <dd>
                  <a className="mono" href={`/orders/${order.id}`}>
                    {order.number}
                  </a>{' '}
                  <LensText lens={order.specification} lengthMm={order.specification.lengthMm} />
                </dd>
              </>
            )}
          </dl>
          <ExchangePicture proposal={exchange.proposal} />
          {exchange.endedAt === null && query.data && <ExchangeWait of={query.data} />}
        </>
      )}
    </section>
  );
}
