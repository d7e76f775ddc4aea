import { useTranslate } from 'react-admin';
import type { OrderState } from '@lensferry/domain';
import type { OrderSummary } from '@lensferry/contracts';
import { Pill, type Tone } from '../shared/parts/Pill';

const tones: Partial<Record<OrderState, Tone>> = {
  accepted: 'moss',
  send_failed: 'brick',
  declined: 'brick',
  rejected: 'brick',
  quarantined: 'brick',
  disputed: 'brick',
  changes_requested: 'amber',
  cancelled: 'plain',
  draft: 'plain',
};

export function OrderStatePill({ order }: { order: Pick<OrderSummary, 'state' | 'late'> }) {
  const t = useTranslate();
  return (
    <>
      <Pill tone={tones[order.state] ?? 'sea'}>{t(`order.state.${order.state}`)}</Pill>{' '}
      {order.late && <Pill tone="amber">{t('order.late')}</Pill>}
    </>
  );
}
