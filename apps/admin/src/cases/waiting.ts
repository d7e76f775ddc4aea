import { useTranslate } from 'react-admin';
import type { CaseSummary } from '@lensferry/contracts';
import { useFormat, useNow, useToday } from '../shared/format/use-format';

/** `Waits for the surgeon's signature since 08:10, until Tue 1 Dec.` */
export function useWaiting(of: CaseSummary): string {
  const t = useTranslate();
  const format = useFormat();
  const now = useNow();
  const zone = of.clinic.timeZone;
  const today = useToday(zone);
  const { waiting } = of;
  if (waiting.for === 'nothing') return t('waiting.nothing');
  const by = waiting.byName ?? (waiting.by === null ? '' : t(`role.${waiting.by}`));
  const parts = [t(`waiting.${waiting.for}`, { by })];
  parts.push(t('waiting.since', { since: format.date.moment(waiting.since, now, zone) }));
  if (waiting.until)
    parts.push(t('waiting.until', { until: format.date.dayAndDistance(waiting.until, today) }));
  return parts.join(', ');
}
