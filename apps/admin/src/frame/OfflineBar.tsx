import { useSyncExternalStore } from 'react';
import { useTranslate } from 'react-admin';

function subscribe(changed: () => void): () => void {
  window.addEventListener('online', changed);
  window.addEventListener('offline', changed);
  return () => {
    window.removeEventListener('online', changed);
    window.removeEventListener('offline', changed);
  };
}

export function OfflineBar() {
  const t = useTranslate();
  const online = useSyncExternalStore(subscribe, () => navigator.onLine);
  return <div role="status">{!online && <p className="offline">{t('frame.offline')}</p>}</div>;
}
