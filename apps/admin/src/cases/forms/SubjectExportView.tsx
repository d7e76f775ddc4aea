import { useTranslate } from 'react-admin';
import type { CaseFormProps } from '../CaseDialogs';

/** What is held about the person, as a file to hand over; making it goes on record. */
export default function SubjectExportView({ of, close }: CaseFormProps) {
  const t = useTranslate();
  const path = `/api/cases/${of.id}/subject-export`;
  return (
    <div className="form">
      <p>{t('identity.export')}</p>
      <div className="form__actions">
        <a className="button button--filled" href={`${path}.pdf`} target="_blank" rel="noreferrer">
          {t('identity.pdf')}
        </a>
        <a className="button" href={path} download={`${of.code}-held.json`}>
          {t('identity.json')}
        </a>
        <button type="button" className="button" onClick={close}>
          {t('common.close')}
        </button>
      </div>
    </div>
  );
}
