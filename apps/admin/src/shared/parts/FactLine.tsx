import { useTranslate } from 'react-admin';
import { plainFacts, type PlainFact } from '../format/facts';
import { useFormat, useToday } from '../format/use-format';

/** The facts of an entry of the record in a line. */
export function FactLine({ facts }: { facts: Readonly<Record<string, unknown>> }) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday();
  const told = (value: PlainFact['before']) => {
    if (value === null || value === undefined) return '–';
    if (typeof value === 'number') return format.plain(value);
    if (typeof value === 'boolean') return t(value ? 'choice.yes' : 'choice.no');
    if (/^\d{4}-\d\d-\d\d$/.test(value)) return format.date.day(value, today);
    for (const section of ['stage', 'order.state', 'lens.state', 'return.state', 'choice', 'eye', 'kind']) {
      const known = t(`${section}.${value.replaceAll('.', '_')}`, { _: '' });
      if (known) return known;
    }
    return value;
  };
  return (
    <>
      {plainFacts(facts)
        .map(({ name, value, before }) => {
          const told_ = before === undefined ? told(value) : `${told(before)} → ${told(value)}`;
          return name === 'change' ? told_ : `${t(`field.${name}`, { _: name })} ${told_}`;
        })
        .join(' · ')}
    </>
  );
}
