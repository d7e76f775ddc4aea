import { useState } from 'react';
import { useTranslate } from 'react-admin';
import { useNavigate } from 'react-router-dom';
import {
  OwnLens,
  ReadPack,
  ReasonedStep,
  ReserveLens,
  StartReturn,
  type LensSummary,
  type ReturnSummary,
} from '@lensferry/contracts';
import { StepDialog } from '../shared/forms/StepDialog';
import { lensOwners } from '@lensferry/domain';
import { SelectField, TextField } from '../shared/forms/fields';
import { OfferDialog } from './OfferDialog';
import { ReadPackFields } from './ReadPackFields';

type Step = LensSummary['steps'][number];
const grave: readonly Step[] = ['reject', 'discard'];

/** What can be done with a lens now, each with what follows from it. */
export function LensActions({ lens }: { lens: LensSummary }) {
  const t = useTranslate();
  const navigate = useNavigate();
  const [open, setOpen] = useState<Step | null>(null);
  // A dialog that took the last step still says that it is done.
  if (lens.steps.length === 0 && open === null) return null;
  const shared = open && {
    title: t(`step.lens.${open}`),
    consequence: t(`lens.consequence.${open}`, { serial: lens.serial, maker: lens.maker.name }),
    path: `/lenses/${lens.id}/${open}`,
    done: `lens.done.${open}`,
    grave: grave.includes(open),
    onClose: () => setOpen(null),
  };
  return (
    <div className="steps lens-steps no-print">
      {lens.steps.map((step, i) => (
        <button
          key={step}
          type="button"
          className={`button${i === 0 ? ' button--filled' : ''}${grave.includes(step) ? ' button--grave' : ''}`}
          onClick={() => setOpen(step)}
        >
          {t(`step.lens.${step}`)}
        </button>
      ))}
      {shared && open === 'return' && (
        <StepDialog<ReturnSummary>
          {...shared}
          schema={StartReturn}
          defaults={{ version: lens.version, reason: '' }}
          answers="returns"
          onDone={(started) => navigate(`/returns/${started.id}`)}
        >
          <TextField name="reason" label={t('common.why')} long autoFocus />
        </StepDialog>
      )}
      {shared && open === 'read' && (
        <StepDialog<LensSummary>
          {...shared}
          schema={ReadPack}
          defaults={{ version: lens.version, serial: '' }}
          answers="lenses"
        >
          <ReadPackFields unread={lens.unread} />
        </StepDialog>
      )}
      {shared && open === 'owner' && (
        <StepDialog<LensSummary>
          {...shared}
          schema={OwnLens}
          defaults={{ version: lens.version, owner: lens.owner, why: '' }}
          answers="lenses"
        >
          <SelectField
            name="owner"
            label={t('lens.owner_label')}
            placeholder={t('lens.owner_label')}
            choices={lensOwners.map((owner) => ({ value: owner, label: t(`lens.owner.${owner}`) }))}
          />
          <TextField name="why" label={t('common.why')} long />
        </StepDialog>
      )}
      {shared && open === 'reserve' && (
        <StepDialog<LensSummary>
          {...shared}
          schema={ReserveLens}
          defaults={{ version: lens.version, orderId: lens.order.id, why: '' }}
          answers="lenses"
        >
          <TextField name="why" label={t('lens.reserve_why')} hint={t('lens.reserve_hint')} long />
        </StepDialog>
      )}
      {shared && open === 'offer' && (
        <OfferDialog lens={lens} {...shared} onDone={() => navigate('/lenses/between')} />
      )}
      {shared && !['return', 'read', 'owner', 'offer', 'reserve'].includes(open) && (
        <StepDialog<LensSummary>
          {...shared}
          schema={ReasonedStep}
          defaults={{ version: lens.version, why: '' }}
          answers="lenses"
        >
          <TextField name="why" label={t('common.why')} long autoFocus />
        </StepDialog>
      )}
    </div>
  );
}
