import { useTranslate } from 'react-admin';
import { useNavigate } from 'react-router-dom';
import { AddMaker, type MakerSummary } from '@lensferry/contracts';
import { ContractForm } from '../shared/forms/ContractForm';
import { TextField } from '../shared/forms/fields';
import { Dialog } from '../shared/parts/Dialog';
import { shapeAgreed, shapeReach } from './maker-values';
import { AgreedFields, ReachFields } from './MakerFields';

/** A maker from nothing: who it is, how it is reached and what is agreed; its designs come next. */
export function AddMakerDialog({ onClose }: { onClose: () => void }) {
  const t = useTranslate();
  const navigate = useNavigate();
  return (
    <Dialog title={t('maker.add.title')} onClose={onClose} className="dialog--wide">
      <ContractForm<MakerSummary>
        schema={AddMaker}
        path="/makers"
        defaults={{ sendsPerMinute: 60, returnWindowDays: 60 }}
        shape={(values) => shapeReach(shapeAgreed(values))}
        done="maker.add.done"
        submitLabel={t('maker.add.title')}
        onCancel={onClose}
        onDone={({ id }) => navigate(`/makers/${id}`)}
      >
        <p>{t('maker.add.lead')}</p>
        <TextField name="name" label={t('maker.add.name')} autoFocus />
        <TextField name="code" label={t('maker.add.code')} hint={t('maker.add.code_hint')} mono />
        <ReachFields />
        <AgreedFields />
      </ContractForm>
    </Dialog>
  );
}
