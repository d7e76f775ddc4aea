import { useDeferredValue, useEffect, useId, useState, type KeyboardEvent } from 'react';
import { useTranslate } from 'react-admin';
import { useNavigate } from 'react-router-dom';
import type { z } from 'zod';
import type { SearchAnswer } from '@lensferry/contracts';
import { may } from '@lensferry/domain';
import { useRole } from '../providers/session';
import { useRead } from '../providers/use-read';
import { useTellField } from '../shared/format/field-value';
import { Dialog } from '../shared/parts/Dialog';
import { commandsFor, type Found } from './commands';
import { useRecent } from './recent';
import './palette.css';

/** Finds a case, order, lens or return by code, name, serial or number; or goes to a place. */
export function CommandPalette({ onClose }: { onClose: () => void }) {
  const t = useTranslate();
  const role = useRole();
  const tell = useTellField();
  const navigate = useNavigate();
  const id = useId();
  const [text, setText] = useState('');
  const [at, setAt] = useState(0);
  const wanted = useDeferredValue(text.trim());
  const answer = useRead<z.infer<typeof SearchAnswer>>(
    `/search?q=${encodeURIComponent(wanted)}`,
    wanted.length > 1,
  );
  const found: Found[] = commandsFor(
    wanted,
    answer.data?.items ?? [],
    (permission) => may(role, permission),
    t,
    tell,
    useRecent(),
  );
  const go = (one: Found | undefined) => {
    if (!one) return;
    onClose();
    navigate(one.path);
  };
  // Enter may come before what was typed has been looked for: what is listed then answers an earlier text.
  const settled = wanted === text.trim() && !answer.isLoading;
  const [entered, setEntered] = useState(false);
  useEffect(() => {
    if (!entered || !settled) return;
    setEntered(false);
    go(found[at]);
  }, [entered, settled]);
  const onKey = (event: KeyboardEvent) => {
    const moves: Record<string, number> = { ArrowDown: 1, ArrowUp: -1 };
    const move = moves[event.key];
    if (move !== undefined && found.length > 0) {
      event.preventDefault();
      setAt((at + move + found.length) % found.length);
    } else if (event.key === 'Enter') {
      event.preventDefault();
      setEntered(true);
    }
  };
  return (
    <Dialog title={t('frame.find')} onClose={onClose} className="palette">
      <span className="field__box">
        <input
          className="field__input"
          role="combobox"
          aria-expanded="true"
          aria-controls={id}
          aria-activedescendant={found[at] ? `${id}-${at}` : undefined}
          aria-label={t('frame.find_hint')}
          placeholder={t('frame.find_hint')}
          value={text}
          autoFocus
          onChange={(event) => {
            setText(event.target.value);
            setAt(0);
            setEntered(false);
          }}
          onKeyDown={onKey}
        />
      </span>
      <ul id={id} role="listbox" aria-label={t('frame.found')} className="palette__list">
        {found.map((one, index) => (
          <li
            key={one.path + one.label}
            id={`${id}-${index}`}
            role="option"
            aria-selected={index === at}
            className="palette__item"
            onClick={() => go(one)}
          >
            <span>{one.label}</span>
            <span className="muted small">{one.detail}</span>
          </li>
        ))}
      </ul>
      {wanted.length > 1 && !answer.isFetching && found.length === 0 && (
        <p className="muted">{t('frame.nothing_found')}</p>
      )}
    </Dialog>
  );
}
