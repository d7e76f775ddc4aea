import { useEffect } from 'react';
import { useTranslate } from 'react-admin';
import { PartMissing } from '../later';

/** What is said in place of a page that broke or did not come, and how to go on. */
export function Broken({ error, again }: { error: Error; again: () => void }) {
  const t = useTranslate();
  const missing = error instanceof PartMissing;
  useEffect(() => {
    if (!missing) console.error(error);
  }, [error, missing]);
  return (
    <div role="alert">
      <h1>{t(missing ? 'frame.part_missing' : 'frame.broke')}</h1>
      <p className="muted">{missing ? t('frame.part_missing_why') : error.message}</p>
      <div className="steps section">
        <button type="button" className="button button--filled" onClick={again}>
          {t('common.again')}
        </button>
        <button type="button" className="button" onClick={() => location.reload()}>
          {t('form.reload')}
        </button>
        <a className="button" href="/">
          {t('frame.to_today')}
        </a>
      </div>
    </div>
  );
}
