import { useTranslate } from 'react-admin';
import type { Today } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { CaseName } from '../shared/parts/CaseName';
import { Section } from '../shared/parts/Page';

/** Parcels that are on their way; without their lenses, so that nobody reads the order instead of the pack. */
export function ExpectedParcels() {
  const t = useTranslate();
  const today = useRead<Today>('/today');
  const orders = today.data?.toReceive ?? [];
  return (
    <Section title={t('arrival.expected')}>
      {orders.length === 0 ? (
        <p className="muted">{t('arrival.none_expected')}</p>
      ) : (
        <ul className="card card--padded form">
          {orders.map((order) => (
            <li key={order.id}>
              <CaseName of={order.case} /> <span className="muted">· {order.maker.name} · </span>
              <span className="mono">{order.number}</span>
              {order.tracking && <span className="muted"> · {order.tracking}</span>}
            </li>
          ))}
        </ul>
      )}
    </Section>
  );
}
