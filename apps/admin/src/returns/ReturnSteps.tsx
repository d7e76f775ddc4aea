import { useState } from 'react';
import { useTranslate } from 'react-admin';
import type { z } from 'zod';
import {
  AuthoriseReturn,
  CreditReturn,
  HandOverReturn,
  PlainStep,
  ReasonedStep,
  type ReturnSummary,
} from '@lensferry/contracts';
import { returnLifecycle, type ReturnEvent } from '@lensferry/domain';
import { TextField } from '../shared/forms/fields';
import { StepDialog } from '../shared/forms/StepDialog';

/** What each step of a return asks for: its contract, and the field that it adds. */
const forms: Record<ReturnEvent, { schema: z.ZodType; field?: { name: string; label: string } }> = {
  authorise: { schema: AuthoriseReturn, field: { name: 'authorisation', label: 'return.authorisation' } },
  'hand-over': { schema: HandOverReturn, field: { name: 'tracking', label: 'order.tracking' } },
  receive: { schema: PlainStep },
  credit: { schema: CreditReturn, field: { name: 'amount', label: 'return.amount' } },
  'write-off': { schema: ReasonedStep, field: { name: 'why', label: 'common.why' } },
};

export function ReturnSteps({ of }: { of: ReturnSummary }) {
  const t = useTranslate();
  const [open, setOpen] = useState<ReturnEvent | null>(null);
  const main = of.steps.find((step) => step !== 'write-off');
  // Whoever may take it on; writing it off is no way on.
  const by = returnLifecycle.steps
    .filter(({ event, from }) => event !== 'write-off' && from.includes(of.state))
    .flatMap((step) => step.by);
  const field = open && forms[open].field;
  return (
    <aside className="card card--padded next order__side" aria-labelledby="return-next">
      <h2 id="return-next">{main ? t(`step.return.${main}`) : t('next.nothing')}</h2>
      <p className="muted">
        {main
          ? t(`return.next.${main}`)
          : by.length === 0
            ? t('return.next.none')
            : t('next.others_turn', { by: by.map((actor) => t(`role.${actor}`)).join(', ') })}
      </p>
      {of.steps.map((step) => (
        <button
          key={step}
          type="button"
          className={`button button--wide${step === main ? ' button--filled' : ''}${step === 'write-off' ? ' button--grave' : ''}`}
          onClick={() => setOpen(step)}
        >
          {t(`step.return.${step}`)}
        </button>
      ))}
      <button type="button" className="button button--text button--wide" onClick={() => window.print()}>
        {t('return.print')}
      </button>
      {open && (
        <StepDialog<ReturnSummary>
          title={t(`step.return.${open}`)}
          consequence={t(`return.consequence.${open}`, { maker: of.maker.name })}
          schema={forms[open].schema}
          path={`/returns/${of.id}/${open}`}
          defaults={{
            version: of.version,
            ...(open === 'credit' ? { amount: of.creditExpected } : field ? { [field.name]: '' } : {}),
          }}
          answers="returns"
          done={`return.done.${open}`}
          grave={open === 'write-off'}
          onClose={() => setOpen(null)}
        >
          {field && (
            <TextField
              name={field.name}
              label={t(field.label)}
              mono={field.name !== 'why'}
              long={field.name === 'why'}
              autoFocus
            />
          )}
        </StepDialog>
      )}
    </aside>
  );
}
