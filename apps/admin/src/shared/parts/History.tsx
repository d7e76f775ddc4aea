import { useTranslate } from 'react-admin';
import type { HistoryEntry } from '@lensferry/contracts';
import { FactLine } from './FactLine';
import { Moment } from './When';

/** What happened, newest first, with who did it and why. */
export function History({ entries, zone }: { entries: readonly HistoryEntry[]; zone: string }) {
  const t = useTranslate();
  const newest = [...entries].sort((a, b) => b.seq - a.seq);
  return (
    <ol className="history card card--padded">
      {newest.map((entry) => (
        <li key={entry.seq} className="history__row">
          <span className="muted">
            <Moment at={entry.at} zone={zone} />
          </span>
          <div>
            <p>
              <span className="strong">{t(`action.${entry.action}`, { _: entry.action })}</span> ·{' '}
              {entry.actorName}
            </p>
            {entry.why && <p>{t('common.because', { why: entry.why })}</p>}
            <p className="history__facts">
              <FactLine facts={entry.facts} />
            </p>
          </div>
        </li>
      ))}
    </ol>
  );
}
