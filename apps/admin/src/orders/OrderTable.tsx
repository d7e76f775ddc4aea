import { memo } from 'react';
import { useTranslate } from 'react-admin';
import type { OrderSummary } from '@lensferry/contracts';
import { CaseName } from '../shared/parts/CaseName';
import { LensText } from '../shared/parts/LensText';
import { When } from '../shared/parts/When';
import { ChooseOrder } from './choosing';
import { OrderStatePill } from './OrderStatePill';
import { useOrderTeller, type OrderTeller } from './order-sentence';
import { TableWrap } from '../shared/parts/TableWrap';

/** Orders one under the other, for comparing. */
export function OrderTable({
  orders,
  withCase = true,
}: {
  orders: readonly OrderSummary[];
  withCase?: boolean;
}) {
  const t = useTranslate();
  const teller = useOrderTeller();
  return (
    <TableWrap label={t('list.table', { name: t('place.orders') })}>
      <table className="table table--stack">
        <thead>
          <tr>
            <th>{t('order.number')}</th>
            {withCase && <th>{t('case.one')}</th>}
            <th>{t('plan.lens')}</th>
            <th>{t('plan.maker')}</th>
            <th>{t('order.stands_now')}</th>
            <th>{t('order.need_by')}</th>
          </tr>
        </thead>
        <tbody>
          {orders.map((order) => (
            <Row key={order.id} order={order} withCase={withCase} teller={teller} />
          ))}
        </tbody>
      </table>
    </TableWrap>
  );
}

interface RowProps {
  order: OrderSummary;
  withCase: boolean;
  teller: OrderTeller;
}

const Row = memo(function Row({ order, withCase, teller }: RowProps) {
  const t = useTranslate();
  return (
    <tr>
      <th scope="row">
        <ChooseOrder order={order} />
        <a className="mono" href={`/orders/${order.id}`}>
          {order.number}
        </a>
        {order.isExchange && <p className="muted small">{t('order.exchange')}</p>}
        {order.companionOf && (
          <p className="muted small">{t('order.companion_short', { number: order.companionOf.number })}</p>
        )}
      </th>
      {withCase && (
        <td>
          <CaseName of={order.case} />
          <p className="muted small">{order.clinic.name}</p>
        </td>
      )}
      <td>
        <LensText lens={order.specification} lengthMm={order.specification.lengthMm} />
      </td>
      <td>
        {order.maker.name}
        <p className="muted small">{order.designName}</p>
      </td>
      <td>
        <OrderStatePill order={order} />
        <p className="muted small">{teller.sentence(order)}</p>
      </td>
      <td data-label={t('order.need_by')}>
        {order.needBy ? <When date={order.needBy} zone={order.clinic.timeZone} /> : '–'}
      </td>
    </tr>
  );
});
