import { useTranslate } from 'react-admin';

/** Asks for the name of a view that is to be kept; Escape gives it up. */
export function NameView({ keep, onCancel }: { keep: (name: string) => void; onCancel: () => void }) {
  const t = useTranslate();
  return (
    <form
      className="steps"
      onKeyDown={(event) => event.key === 'Escape' && onCancel()}
      onSubmit={(event) => {
        event.preventDefault();
        const name = String(new FormData(event.currentTarget).get('name')).trim();
        if (name !== '') keep(name);
      }}
    >
      <span className="field__box">
        <input
          className="field__input"
          name="name"
          aria-label={t('list.view_name')}
          placeholder={t('list.view_name')}
          autoFocus
          required
          maxLength={40}
        />
      </span>
      <button className="button">{t('list.keep')}</button>
      <button type="button" className="button button--text" onClick={onCancel}>
        {t('common.cancel')}
      </button>
    </form>
  );
}
