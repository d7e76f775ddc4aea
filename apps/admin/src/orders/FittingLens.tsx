import { useState } from 'react';
import { useTranslate } from 'react-admin';
import { useQueryClient } from '@tanstack/react-query';
import { lensLifecycle, stepsFrom } from '@lensferry/domain';
import { ReserveLens, type FittingLenses, type LensSummary, type OrderDetail } from '@lensferry/contracts';
import { useRole } from '../providers/session';
import { useRead } from '../providers/use-read';
import { TextField } from '../shared/forms/fields';
import { StepDialog } from '../shared/forms/StepDialog';
import { Section } from '../shared/parts/Page';
import { When } from '../shared/parts/When';
import { TransferRows } from '../shelf/TransferRows';

/** Lenses on the shelf that are exactly what an order asks for, before it goes out: the first to expire first. */
export function FittingLens({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  const role = useRole();
  const cache = useQueryClient();
  const asked = ['draft', 'submitted', 'changes_requested', 'approved'].includes(order.state);
  const query = useRead<FittingLenses>(`/orders/${order.id}/fitting-lenses`, asked);
  const [taking, setTaking] = useState<LensSummary | null>(null);
  const lenses = (asked && query.data?.items) || [];
  const offers = (asked && query.data?.offers) || [];
  if (lenses.length === 0 && offers.length === 0) return null;
  const may =
    order.state === 'approved' &&
    stepsFrom(lensLifecycle, 'in_stock', role).some(({ event }) => event === 'reserve');
  return (
    <>
      {offers.length > 0 && (
        <Section title={t('transfer.offered_here')} note={t('transfer.offered_lead')}>
          <TransferRows transfers={offers} />
        </Section>
      )}
      {lenses.length > 0 && (
        <Section title={t('lens.fitting')} note={t('lens.fitting_lead')}>
          <ul className="card rows">
            {lenses.map((lens, i) => (
              <li key={lens.id} className="card--padded form">
                <p>
                  <a className="mono strong" href={`/lenses/${lens.id}`}>
                    {lens.serial}
                  </a>{' '}
                  · {lens.location} · {t('lens.expires')} <When date={lens.expiresOn} />
                </p>
                {may ? (
                  <button
                    type="button"
                    className={i === 0 ? 'button button--filled' : 'button'}
                    onClick={() => setTaking(lens)}
                  >
                    {t('lens.take')}
                  </button>
                ) : (
                  order.state !== 'approved' && <p className="muted">{t('lens.fitting_after')}</p>
                )}
              </li>
            ))}
          </ul>
          {taking && (
            <StepDialog<LensSummary>
              title={t('lens.take')}
              consequence={t('lens.take_consequence', { serial: taking.serial })}
              schema={ReserveLens}
              path={`/lenses/${taking.id}/reserve`}
              defaults={{ version: taking.version, orderId: order.id }}
              answers="lenses"
              done="lens.taken"
              onClose={() => setTaking(null)}
              onDone={() => void cache.invalidateQueries()}
            >
              <TextField name="why" label={t('common.why')} long />
            </StepDialog>
          )}
        </Section>
      )}
    </>
  );
}
