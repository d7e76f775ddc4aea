import { useTranslate } from 'react-admin';
import type { ReturnSummary } from '@lensferry/contracts';
import { daysBetween } from '../shared/format/dates';
import { useFormat, useToday } from '../shared/format/use-format';
import { Pill } from '../shared/parts/Pill';

/** How many days of the maker's return window are left. It stops counting when the parcel was handed over. */
export function WindowPill({ of }: { of: ReturnSummary }) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday(of.clinic.timeZone);
  if (of.state !== 'requested' && of.state !== 'authorised')
    return <Pill tone="plain">{t('return.window_met')}</Pill>;
  const days = daysBetween(today, of.windowClosesOn);
  if (days < 0)
    return (
      <Pill tone="brick">
        {t('return.window_closed', { when: format.date.distance(of.windowClosesOn, today) })}
      </Pill>
    );
  return (
    <Pill tone={days <= 2 ? 'brick' : days <= 7 ? 'amber' : 'moss'}>
      {t('return.window_closes', { when: format.date.distance(of.windowClosesOn, today) })}
    </Pill>
  );
}
