import { useTranslate } from 'react-admin';
import { plainFacts } from '../format/facts';
import { useTellField } from '../format/field-value';

/** The facts of an entry of the record in a line. */
export function FactLine({ facts }: { facts: Readonly<Record<string, unknown>> }) {
  const t = useTranslate();
  const tell = useTellField();
  const label = (name: string) => t(`field.${name}`, { _: name });
  return plainFacts(facts)
    .map(({ name, value, before, fields }) => {
      if (fields)
        return `${label(name)}: ${fields.map(label).join(', ')} ${t(`arrival.field_verdict.${String(value)}`)}`;
      const told = before === undefined ? tell(name, value) : `${tell(name, before)} → ${tell(name, value)}`;
      return name === 'change' ? told : `${label(name)} ${told}`;
    })
    .join(' · ');
}
