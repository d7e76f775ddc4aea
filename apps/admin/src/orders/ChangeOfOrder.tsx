import { useTranslate } from 'react-admin';
import type { OrderDetail } from '@lensferry/contracts';
import { Section } from '../shared/parts/Page';
import { When } from '../shared/parts/When';
import { Differences } from './Differences';

/** A change that is proposed or asked for, and the day that the maker counts on where it is another one than ours. */
export function ChangeOfOrder({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  const { change, maker } = order;
  const withMaker = order.sentAt !== null && order.arrivedAt === null;
  const untold = withMaker && order.toldNeedBy !== order.needBy;
  if (change === null && !untold) return null;
  const says =
    change === null
      ? null
      : change.askedAt === null
        ? t('order.change.proposed')
        : t(change.kind === 'need-by' ? 'order.change.asked_date' : 'order.change.asked_lens', {
            maker: maker.name,
            by: change.signedBy ?? '',
          });
  return (
    <>
      {says !== null && (
        <Section title={t('order.change.title', { number: change?.number })}>
          <p className="note note--amber">{says}</p>
        </Section>
      )}
      {untold && (
        <p className="note note--amber">
          {t('order.change.told')}{' '}
          {order.toldNeedBy === null ? (
            t('order.change.told_none')
          ) : (
            <When date={order.toldNeedBy} zone={order.clinic.timeZone} />
          )}
          , {t('order.change.untold')}
          {order.needBy !== null && (
            <>
              : <When date={order.needBy} zone={order.clinic.timeZone} />
            </>
          )}
        </p>
      )}
      <Differences title={t('order.change.differs')} differences={change?.differences ?? []} tone="amber" />
    </>
  );
}
