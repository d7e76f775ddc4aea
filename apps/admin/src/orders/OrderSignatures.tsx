import { useTranslate } from 'react-admin';
import type { OrderDetail } from '@lensferry/contracts';
import { Pill } from '../shared/parts/Pill';
import { Section } from '../shared/parts/Page';
import { Moment } from '../shared/parts/When';

/** Who signed what and whether it still holds; and each try to reach the maker. */
export function OrderSignatures({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  const zone = order.clinic.timeZone;
  return (
    <>
      {order.signatures.length > 0 && (
        <Section title={t('sign.signatures')}>
          <ul className="card card--padded form">
            {order.signatures.map((signature) => (
              <li key={signature.signedAt}>
                <Pill tone={signature.voidedAt ? 'brick' : 'moss'}>
                  {t(signature.voidedAt ? 'sign.void' : 'sign.valid')}
                </Pill>{' '}
                <span className="strong">{signature.signerName}</span> ·{' '}
                <Moment at={signature.signedAt} zone={zone} /> · {signature.meaning}
                {signature.voidedWhy && <p>{t('common.because', { why: signature.voidedWhy })}</p>}
                {Object.entries(signature.reasons).map(([code, why]) => (
                  <p key={code} className="muted">
                    {t('sign.over_stop', { code, why })}
                  </p>
                ))}
                <p className="muted small mono wraps">{signature.specificationHash}</p>
              </li>
            ))}
          </ul>
        </Section>
      )}
      {order.deliveries.length > 0 && (
        <Section title={t('order.deliveries')}>
          <div className="list-page">
            <table className="table">
              <thead>
                <tr>
                  <th>{t('order.attempt')}</th>
                  <th>{t('order.when')}</th>
                  <th>{t('order.answer')}</th>
                </tr>
              </thead>
              <tbody>
                {order.deliveries.map((delivery) => (
                  <tr key={delivery.attempt}>
                    <th scope="row">{delivery.attempt}</th>
                    <td>
                      <Moment at={delivery.at} zone={zone} />
                    </td>
                    <td>
                      {delivery.status !== null && <span className="mono">{delivery.status}</span>}{' '}
                      {delivery.outcome}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </Section>
      )}
    </>
  );
}
