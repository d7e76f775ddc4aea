import { useFormat, useNow, useToday } from '../format/use-format';

/** A plain date with how far away it is. */
export function When({ date, zone, bare = false }: { date: string; zone?: string; bare?: boolean }) {
  const format = useFormat();
  const today = useToday(zone);
  return (
    <time dateTime={date} className={bare ? 'nowrap' : undefined}>
      {bare ? format.date.day(date, today) : format.date.dayAndDistance(date, today)}
    </time>
  );
}

/** An instant in the clinic's time, with how far away it is. */
export function Moment({ at, zone }: { at: string; zone?: string }) {
  const format = useFormat();
  const now = useNow();
  const timeZone = zone ?? 'UTC';
  return (
    <time dateTime={at} title={format.date.exact(at, timeZone)}>
      {format.date.moment(at, now, timeZone)}
    </time>
  );
}
