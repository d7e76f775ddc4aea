import { useTranslate } from 'react-admin';
import { EditMaker, ReachMaker, type MakerSummary } from '@lensferry/contracts';
import { ContractForm } from '../shared/forms/ContractForm';
import { Dialog } from '../shared/parts/Dialog';
import { agreedValues, reachValues, shapeAgreed, shapeReach } from './maker-values';
import { AgreedFields, ReachFields } from './MakerFields';

interface Props {
  maker: MakerSummary;
  onClose: () => void;
}

/** What an administrator changes of what is agreed with a maker: its hours, holidays, money, window and terms. */
export function EditMakerDialog({ maker, onClose }: Props) {
  const t = useTranslate();
  return (
    <Dialog title={t('maker.edit')} onClose={onClose}>
      <ContractForm<MakerSummary>
        schema={EditMaker}
        path={`/makers/${maker.id}/edit`}
        defaults={agreedValues(maker)}
        shape={shapeAgreed}
        done="maker.edited"
        submitLabel={t('maker.edit')}
        onCancel={onClose}
        onDone={onClose}
      >
        <p>{t('maker.edit_consequence')}</p>
        <AgreedFields />
      </ContractForm>
    </Dialog>
  );
}

/** Which way orders, changes, cancellations and returns go to a maker, and how fast. */
export function ReachMakerDialog({ maker, onClose }: Props) {
  const t = useTranslate();
  return (
    <Dialog title={t('maker.reach')} onClose={onClose}>
      <ContractForm<MakerSummary>
        schema={ReachMaker}
        path={`/makers/${maker.id}/reach`}
        defaults={reachValues(maker)}
        shape={shapeReach}
        done="maker.edited"
        submitLabel={t('maker.reach')}
        onCancel={onClose}
        onDone={onClose}
      >
        <p>{t('maker.reach_consequence')}</p>
        <ReachFields />
      </ContractForm>
    </Dialog>
  );
}
