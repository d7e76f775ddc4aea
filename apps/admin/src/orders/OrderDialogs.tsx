import { useTranslate } from 'react-admin';
import type { z } from 'zod';
import {
  AcceptChange,
  AcknowledgeOrder,
  PlainStep,
  PromiseOrder,
  ReasonedStep,
  ShipOrder,
  type OrderDetail,
} from '@lensferry/contracts';
import type { OrderEvent } from '@lensferry/domain';
import { DateField, TextField } from '../shared/forms/fields';
import { StepDialog } from '../shared/forms/StepDialog';
import { useToday } from '../shared/format/use-format';
import { useDoing } from '../shared/parts/use-doing';
import { stepForms, type StepForm } from './order-steps';

const schemas: Partial<Record<StepForm, z.ZodType>> = {
  plain: PlainStep,
  reason: ReasonedStep,
  acknowledge: AcknowledgeOrder,
  promise: PromiseOrder,
  ship: ShipOrder,
  consent: AcceptChange,
};
const grave: readonly OrderEvent[] = ['cancel', 'decline'];

/** The form of the step that the address opens, when the API says that it can be taken. */
export function OrderDialogs({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  const [doing, open] = useDoing();
  const event = order.steps.find((step) => step === doing);
  const form = event && stepForms[event];
  const schema = form && schemas[form];
  if (!event || !form || !schema) return null;
  return (
    <StepDialog<OrderDetail>
      title={t(`step.order.${event}`)}
      consequence={t(`order.consequence.${event}`, { maker: order.maker.name, number: order.number })}
      schema={schema}
      path={`/orders/${order.id}/${event}`}
      defaults={{
        version: order.version,
        ...(form === 'plain' ? {} : { why: form === 'reason' || form === 'promise' ? '' : undefined }),
      }}
      answers="orders"
      done={`order.done.${event}`}
      grave={grave.includes(event)}
      onClose={() => open(null)}
    >
      <StepFields form={form} zone={order.clinic.timeZone} />
    </StepDialog>
  );
}

function StepFields({ form, zone }: { form: StepForm; zone: string }) {
  const t = useTranslate();
  const today = useToday(zone);
  switch (form) {
    case 'reason':
      return <TextField name="why" label={t('common.why')} long autoFocus />;
    case 'consent':
    case 'acknowledge':
      return <DateField name="promisedOn" label={t('order.promised_on')} min={today} />;
    case 'promise':
      return (
        <>
          <DateField name="promisedOn" label={t('order.promised_on')} min={today} />
          <TextField name="why" label={t('common.why')} long />
        </>
      );
    case 'ship':
      return (
        <>
          <TextField name="tracking" label={t('order.tracking')} mono />
          <DateField name="expectedOn" label={t('order.expected_on')} min={today} />
        </>
      );
    default:
      return null;
  }
}
