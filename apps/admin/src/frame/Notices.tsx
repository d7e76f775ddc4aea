import { useNotificationContext, useTranslate, type NotificationPayload } from 'react-admin';
import { useEffect, useState } from 'react';

const SHOWN_MS = 6000;

/** What just happened, said once and politely; errors stay until they are put away. */
export function Notices() {
  const t = useTranslate();
  const { notifications, takeNotification } = useNotificationContext();
  const [shown, setShown] = useState<NotificationPayload | null>(null);
  useEffect(() => {
    if (notifications.length > 0) setShown(takeNotification() ?? null);
  }, [notifications, takeNotification]);
  useEffect(() => {
    if (!shown || shown.type === 'error') return;
    const timer = setTimeout(() => setShown(null), SHOWN_MS);
    return () => clearTimeout(timer);
  }, [shown]);
  const message =
    shown && typeof shown.message === 'string'
      ? t(shown.message, shown.notificationOptions?.messageArgs)
      : null;
  return (
    <div className="notices" role="status" aria-live="polite">
      {shown && message && (
        <div className={`notice notice--${shown.type}`}>
          <span>{message}</span>
          <button type="button" className="button button--text" onClick={() => setShown(null)}>
            {t('common.put_away')}
          </button>
        </div>
      )}
    </div>
  );
}
