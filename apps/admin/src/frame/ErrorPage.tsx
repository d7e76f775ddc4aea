import { useEffect } from 'react';
import { useResetErrorBoundaryOnLocationChange, useTranslate } from 'react-admin';
import { Link } from 'react-router-dom';

interface Props {
  error: Error;
  resetErrorBoundary: (parameters: unknown) => void;
}

/** A screen that broke. The rest of the program goes on. */
export function ErrorPage({ error, resetErrorBoundary }: Props) {
  const t = useTranslate();
  useResetErrorBoundaryOnLocationChange(() => resetErrorBoundary(undefined));
  useEffect(() => console.error(error), [error]);
  return (
    <main className="frame__main" role="alert">
      <h1>{t('frame.broke')}</h1>
      <p className="muted">{error.message}</p>
      <div className="steps section">
        <button type="button" className="button button--filled" onClick={() => location.reload()}>
          {t('form.reload')}
        </button>
        <Link className="button" to="/">
          {t('frame.to_today')}
        </Link>
      </div>
    </main>
  );
}
