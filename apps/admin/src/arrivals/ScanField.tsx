import { useId, useState, type FormEvent, type KeyboardEvent, type Ref } from 'react';
import { useTranslate } from 'react-admin';
import { GROUP_SEPARATOR, isSeparatorKey, readable } from './label';

interface Props {
  ref: Ref<HTMLInputElement>;
  onScan: (text: string) => void;
  onCamera: () => void;
  camera: boolean;
}

/** Where a scanner types. It has the focus from the start, ends with Enter and empties itself for the next code. */
export function ScanField({ ref, onScan, onCamera, camera }: Props) {
  const t = useTranslate();
  const id = useId();
  const [text, setText] = useState('');
  const [last, setLast] = useState('');
  const onKey = (event: KeyboardEvent<HTMLInputElement>) => {
    if (!isSeparatorKey(event)) return;
    event.preventDefault();
    setText(text + GROUP_SEPARATOR);
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (text.trim() === '') return;
    onScan(text.trim());
    setLast(text.trim());
    setText('');
  };
  return (
    <form className="scan" onSubmit={submit}>
      <label className="scan__label" htmlFor={id}>
        {t('arrival.scan')}
      </label>
      <div className="scan__row">
        <span className="field__box scan__box">
          <input
            ref={ref}
            id={id}
            className="field__input mono"
            autoFocus
            autoComplete="off"
            autoCapitalize="off"
            autoCorrect="off"
            spellCheck={false}
            value={text}
            onChange={(event) => setText(event.target.value)}
            onKeyDown={onKey}
            aria-describedby={`${id}-last`}
          />
        </span>
        <button className="button button--filled">{t('arrival.read')}</button>
        <button type="button" className="button" aria-pressed={camera} onClick={onCamera}>
          {t(camera ? 'arrival.camera_off' : 'arrival.camera')}
        </button>
      </div>
      <p id={`${id}-last`} className="muted small scan__last">
        {last ? t('arrival.last', { text: readable(last) }) : t('arrival.scan_hint')}
      </p>
    </form>
  );
}
