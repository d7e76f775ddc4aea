import { useState } from 'react';
import { useTranslate } from 'react-admin';
import { RenewSecret, type MakerSummary, type NewSecret } from '@lensferry/contracts';
import { ContractForm } from '../shared/forms/ContractForm';
import { Dialog } from '../shared/parts/Dialog';

/** Makes a new signing secret and shows it once, with where the maker's own messages go. */
export function SecretDialog({ maker, onClose }: { maker: MakerSummary; onClose: () => void }) {
  const t = useTranslate();
  const [version] = useState(maker.version);
  const [told, setTold] = useState<NewSecret | null>(null);
  if (told)
    return (
      <Dialog title={t('maker.secret.told')} onClose={onClose}>
        <div className="form">
          <p className="note note--amber">{t('maker.secret.once')}</p>
          <dl className="facts">
            <dt>{t('maker.secret.secret')}</dt>
            <dd className="mono wraps">{told.secret}</dd>
            <dt>{t('maker.secret.answers')}</dt>
            <dd className="mono wraps">{`${window.location.origin}/api/maker-messages/${told.makerCode}`}</dd>
          </dl>
          <p className="form__actions">
            <button type="button" className="button button--filled" onClick={onClose}>
              {t('maker.secret.kept')}
            </button>
          </p>
        </div>
      </Dialog>
    );
  return (
    <Dialog title={t('maker.secret.renew')} onClose={onClose}>
      <ContractForm<NewSecret>
        schema={RenewSecret}
        path={`/makers/${maker.id}/secret`}
        defaults={{ version }}
        grave={maker.hasSecret}
        submitLabel={t('maker.secret.renew')}
        onCancel={onClose}
        onDone={setTold}
      >
        <p>{t(maker.hasSecret ? 'maker.secret.consequence' : 'maker.secret.first')}</p>
      </ContractForm>
    </Dialog>
  );
}
