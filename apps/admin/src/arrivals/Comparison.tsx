import { useEffect, useRef } from 'react';
import { useTranslate } from 'react-admin';
import type { ArrivalReading } from '@lensferry/contracts';
import { CaseName } from '../shared/parts/CaseName';
import { ComparedFields } from './ComparedFields';
import { useSay } from './say';

const signs: Record<ArrivalReading['verdict'], string> = {
  match: '✓',
  mismatch: '✕',
  incomplete: '…',
  unknown: '?',
  'seen before': '!',
};

/** The verdict, large enough to be read from across the desk, and each field beside the order's. */
export function Comparison({ reading, onOrder }: { reading: ArrivalReading; onOrder: (id: string) => void }) {
  const t = useTranslate();
  const say = useSay();
  const ref = useRef<HTMLDivElement>(null);
  const compared = reading.comparison.filter(
    ({ verdict }) => reading.verdict !== 'incomplete' || verdict !== 'not on label',
  );
  const kind = reading.verdict.replace(' ', '-');
  useEffect(() => {
    // An unfinished reading goes on in the fields, so the page stays where they are.
    if (reading.verdict !== 'incomplete') ref.current?.scrollIntoView({ block: 'nearest' });
  }, [reading]);
  return (
    <div className="form" ref={ref}>
      <div className={`verdict verdict--${kind}`} role="status" aria-live="assertive">
        <p className="verdict__word">
          <span aria-hidden="true">{signs[reading.verdict]}</span> {t(`arrival.verdict.${kind}`)}
        </p>
        <p>{say(reading)}</p>
        {reading.order && (
          <p>
            <span className="mono">{reading.order.number}</span> · <CaseName of={reading.order.case} /> ·{' '}
            {reading.order.maker.name}
          </p>
        )}
      </div>
      {reading.transferId && (
        <p>
          <a className="button button--filled" href={`/lenses/between?do=receive.${reading.transferId}`}>
            {t('transfer.from_clinic')}
          </a>
        </p>
      )}
      {reading.sameParcel.length > 0 && (
        <p className="note note--amber">
          {t('arrival.same_parcel', { numbers: reading.sameParcel.join(', ') })}
        </p>
      )}
      {reading.warnings.map((warning) => (
        <p key={warning} className="note note--amber">
          {warning}
        </p>
      ))}
      {compared.length > 0 && <ComparedFields comparison={compared} />}
      {reading.candidates.length > 0 && (
        <section aria-labelledby="candidates">
          <h2 id="candidates">{t('arrival.which_order')}</h2>
          <ul className="steps arrivals__candidates">
            {reading.candidates.map((order) => (
              <li key={order.id}>
                <button type="button" className="button" onClick={() => onOrder(order.id)}>
                  <span className="mono">{order.number}</span> · {order.case.codeName},{' '}
                  {t(`eye.${order.case.eye}`)} · {order.maker.name}
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  );
}
