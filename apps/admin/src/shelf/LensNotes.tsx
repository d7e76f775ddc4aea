import { useTranslate } from 'react-admin';
import type { LensDetail } from '@lensferry/contracts';
import { useTellExpiry } from './tell-expiry';

/** What has to be known of a lens before anything is done with it. */
export function LensNotes({ lens }: { lens: LensDetail }) {
  const t = useTranslate();
  const tellExpiry = useTellExpiry();
  return (
    <>
      {lens.quarantineWhy && (
        <p className="note note--brick">{t('lens.quarantined_because', { why: lens.quarantineWhy })}</p>
      )}
      {lens.damaged && <p className="note note--brick">{t('lens.damaged')}</p>}
      {lens.unread.length > 0 && (
        <p className="note note--amber">
          {t('lens.unread', { fields: lens.unread.map((field) => t(`field.${field}`)).join(', ') })}
        </p>
      )}
      {lens.transferId && (
        <p className="note">
          {t('transfer.held')} <a href="/lenses/between">{t('transfer.title')}</a>
        </p>
      )}
      {lens.expiryWarning && <p className="note note--amber">{tellExpiry(lens)}</p>}
    </>
  );
}
