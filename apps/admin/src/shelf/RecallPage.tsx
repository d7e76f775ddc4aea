import { useState, type FormEvent } from 'react';
import { useTranslate } from 'react-admin';
import { useSearchParams } from 'react-router-dom';
import type { LensState } from '@lensferry/domain';
import type { Recall } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { Answer, Empty } from '../shared/parts/Answer';
import { CaseName } from '../shared/parts/CaseName';
import { Page, Section } from '../shared/parts/Page';
import { Pill } from '../shared/parts/Pill';
import { lensTones, LensTable } from './LensTable';
import './recall.css';

/** Every lens of a lot or a design, and the eyes that it is in or was meant for: those with one in them first. */
export function RecallPage() {
  const t = useTranslate();
  const [search, setSearch] = useSearchParams();
  const asked = {
    lot: search.get('lot') ?? '',
    designCode: search.get('designCode') ?? '',
  };
  const named = new URLSearchParams(Object.entries(asked).filter(([, value]) => value !== ''));
  const any = named.size > 0;
  const query = useRead<Recall>(`/recall?${named.toString()}`, any);
  return (
    <Page
      title={t('recall.title')}
      lead={t('recall.lead')}
      actions={<a href="/lenses">{t('place.shelf')}</a>}
    >
      <Ask key={named.toString()} asked={asked} onAsk={(next) => setSearch(next, { replace: true })} />
      {any ? <Answer query={query}>{(recall) => <Found of={recall} />}</Answer> : null}
    </Page>
  );
}

interface Asked {
  lot: string;
  designCode: string;
}

function Ask({ asked, onAsk }: { asked: Asked; onAsk: (next: Record<string, string>) => void }) {
  const t = useTranslate();
  const [typed, setTyped] = useState(asked);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const filled = Object.entries(typed).map(([name, value]) => [name, value.trim()] as const);
    onAsk(Object.fromEntries(filled.filter(([, value]) => value !== '')));
  };
  return (
    <form className="card card--padded form no-print" onSubmit={submit}>
      <div className="form__row">
        {(['lot', 'designCode'] as const).map((name) => (
          <div key={name} className="field">
            <label className="field__label" htmlFor={`recall-${name}`}>
              {t(`recall.${name}`)}
            </label>
            <span className="field__box">
              <input
                id={`recall-${name}`}
                className="field__input mono"
                value={typed[name]}
                maxLength={120}
                autoComplete="off"
                spellCheck={false}
                autoFocus={name === 'lot'}
                onChange={(event) => setTyped({ ...typed, [name]: event.target.value })}
              />
            </span>
          </div>
        ))}
      </div>
      <p className="muted small">{t('recall.hint')}</p>
      <div className="form__actions">
        <button className="button button--filled">{t('recall.find')}</button>
      </div>
    </form>
  );
}

function Found({ of }: { of: Recall }) {
  const t = useTranslate();
  if (of.lenses.length === 0) return <Empty title={t('recall.none')}>{t('recall.none_hint')}</Empty>;
  const inEyes = of.cases.filter(({ inEye }) => inEye).length;
  return (
    <div className="form recall__found">
      <p role="status">
        <strong>{t('recall.found', { smart_count: of.lenses.length })}</strong>{' '}
        {t('recall.in_eyes', { smart_count: inEyes })}
      </p>
      <p className="steps">
        {Object.entries(of.byState).map(([state, count]) => (
          <Pill key={state} tone={lensTones[state as LensState] ?? 'sea'}>
            {t(`lens.state.${state}`)}: {count}
          </Pill>
        ))}
      </p>
      <Section title={t('recall.eyes')}>
        <ul className="card rows">
          {of.cases.map((one) => (
            <li key={one.id} className="card--padded">
              <CaseName of={one} />{' '}
              <Pill tone={one.inEye ? 'brick' : 'plain'}>
                {t(one.inEye ? 'recall.in_eye' : 'recall.not_in_eye')}
              </Pill>
              <p className="muted small">
                {one.clinicName} · <span className="mono">{one.serials.join(', ')}</span>
              </p>
            </li>
          ))}
        </ul>
      </Section>
      <Section title={t('recall.lenses')}>
        <div className="card">
          <LensTable lenses={of.lenses} />
        </div>
      </Section>
    </div>
  );
}
