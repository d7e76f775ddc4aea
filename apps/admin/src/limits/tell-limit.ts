import { useTranslate } from 'react-admin';
import { limits, sixOver, type LimitKey, type LimitUnit } from '@lensferry/domain';
import { useFormat, type Format } from '../shared/format/use-format';

type Translate = (key: string, options?: Record<string, unknown>) => string;

const tellers: Record<LimitUnit, (value: number, format: Format, t: Translate) => string> = {
  months: (value, _, t) => t('limit.months', { smart_count: value }),
  days: (value, _, t) => t('limit.days', { smart_count: value }),
  years: (value, _, t) => t('limit.years', { smart_count: value }),
  D: (value, format) => format.withUnit(value, 'D'),
  mm: (value, format) => format.mm(value),
  um: (value, format) => format.um(value),
  acuity: (value, format) => `${format.plain(value)} (${sixOver(value)})`,
  percent: (value, format) => format.withUnit(value, '%'),
  money: (value, format) => format.whole(value),
  money_a_day: (value, format) => format.plain(value),
};

/** A limit's value as people read it, in its unit. */
export function useTellLimit(): (key: LimitKey, value: number) => string {
  const t = useTranslate();
  const format = useFormat();
  return (key, value) => tellers[limits[key].unit](value, format, t);
}
