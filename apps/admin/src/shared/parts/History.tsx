import { useTranslate } from 'react-admin';
import type { HistoryEntry } from '@lensferry/contracts';
import { Moment } from './When';

function shown(value: unknown): string {
  if (value === null || value === undefined) return '–';
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}

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
              {Object.entries(entry.facts)
                .map(([name, value]) => `${t(`field.${name}`, { _: name })}: ${shown(value)}`)
                .join(' · ')}
            </p>
          </div>
        </li>
      ))}
    </ol>
  );
}
