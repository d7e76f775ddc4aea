import { useTranslate } from 'react-admin';
import type { ArrivalReading } from '@lensferry/contracts';
import { useTellField } from '../shared/format/field-value';

/** What a reading comes to, in a sentence of the screen's language; the server's own where there is no order. */
export function useSay(): (reading: ArrivalReading) => string {
  const t = useTranslate();
  const names = (fields: readonly string[]) => fields.map((field) => t(`field.${field}`)).join(', ');
  return (reading) => {
    const number = reading.order?.number;
    if (number === undefined)
      return reading.missing.length > 0
        ? t('arrival.say.find', { fields: names(reading.missing) })
        : reading.sentence;
    if (reading.verdict === 'match') return t('arrival.say.match', { number });
    if (reading.verdict === 'mismatch')
      return t('arrival.say.mismatch', { number, fields: names(wrongOf(reading).map(({ field }) => field)) });
    return reading.missing.length > 0
      ? t('arrival.say.incomplete', { number, fields: names(reading.missing) })
      : reading.sentence;
  };
}

/** The fields that differ. */
export function wrongOf(reading: ArrivalReading): ArrivalReading['comparison'] {
  return reading.comparison.filter(({ verdict }) => verdict === 'mismatch');
}

/** The reason for quarantine that the comparison itself gives: each differing field with both values. */
export function useReason(): (reading: ArrivalReading) => string {
  const t = useTranslate();
  const tell = useTellField();
  return (reading) =>
    wrongOf(reading)
      .map(({ field, expected, found }) =>
        t('arrival.say.differs', {
          field: t(`field.${field}`),
          pack: tell(field, found),
          order: tell(field, expected),
        }),
      )
      .join('; ');
}
