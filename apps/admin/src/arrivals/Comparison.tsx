import { useEffect, useRef } from 'react';
import { useTranslate } from 'react-admin';
import type { ArrivalReading, FieldVerdict } from '@lensferry/contracts';
import { CaseName } from '../shared/parts/CaseName';
import { useFormat, useToday } from '../shared/format/use-format';

const signs: Record<ArrivalReading['verdict'], string> = {
  match: '✓',
  mismatch: '✕',
  incomplete: '…',
  unknown: '?',
  'seen before': '!',
};
const fieldSigns: Record<FieldVerdict['verdict'], string> = {
  match: '✓',
  mismatch: '✕',
  'not on label': '…',
};

/** The verdict, large enough to be read from across the desk, and each field beside the order's. */
export function Comparison({ reading, onOrder }: { reading: ArrivalReading; onOrder: (id: string) => void }) {
  const t = useTranslate();
  const ref = useRef<HTMLDivElement>(null);
  const kind = reading.verdict.replace(' ', '-');
  useEffect(() => {
    ref.current?.scrollIntoView({ block: 'nearest' });
  }, [reading]);
  return (
    <div className="form" ref={ref}>
      <div className={`verdict verdict--${kind}`} role="status" aria-live="assertive">
        <p className="verdict__word">
          <span aria-hidden="true">{signs[reading.verdict]}</span> {t(`arrival.verdict.${kind}`)}
        </p>
        <p>{reading.sentence}</p>
        {reading.order && (
          <p>
            <span className="mono">{reading.order.number}</span> · <CaseName of={reading.order.case} /> ·{' '}
            {reading.order.maker.name}
          </p>
        )}
      </div>
      {reading.warnings.map((warning) => (
        <p key={warning} className="note note--amber">
          {warning}
        </p>
      ))}
      {reading.comparison.length > 0 && <Fields comparison={reading.comparison} />}
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

function Fields({ comparison }: { comparison: readonly FieldVerdict[] }) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday();
  const shown = (field: string, value: string | number | null) => {
    if (value === null) return '–';
    if (field === 'eye') return t(`eye.capitals.${String(value)}`);
    if (field === 'lengthMm') return format.mm(Number(value));
    if (field === 'axisDeg') return format.degrees(Number(value));
    if (field === 'expiresOn') return format.date.day(String(value), today);
    return typeof value === 'number' ? format.dioptres(value) : value;
  };
  return (
    <table className="compare card">
      <thead>
        <tr>
          <th>{t('arrival.field')}</th>
          <th>{t('arrival.on_order')}</th>
          <th>{t('arrival.on_pack')}</th>
          <th>{t('arrival.result')}</th>
        </tr>
      </thead>
      <tbody>
        {comparison.map(({ field, expected, found, verdict }) => (
          <tr key={field} className={`compare__row compare__row--${verdict.replaceAll(' ', '-')}`}>
            <th scope="row">{t(`field.${field}`)}</th>
            {/* Until it was read off the pack, the order keeps it to itself: nobody types what they were shown. */}
            <td className="mono wraps">
              {verdict === 'not on label' ? t('arrival.hidden') : shown(field, expected)}
            </td>
            <td className="mono wraps">{verdict === 'not on label' ? '' : shown(field, found)}</td>
            <td className="compare__verdict">
              <span aria-hidden="true">{fieldSigns[verdict]}</span>{' '}
              {t(`arrival.field_verdict.${verdict.replaceAll(' ', '-')}`)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
