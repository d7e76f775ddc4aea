import { useTranslate } from 'react-admin';
import type { UnableDesign } from '@lensferry/contracts';
import { useFormat, useToday } from '../shared/format/use-format';

/** Every reason for which a design can't make the lens, a sentence each. */
export function WhyUnable({ reasons }: Pick<UnableDesign, 'reasons'>) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday();
  const told = (code: string, facts: Record<string, string | number>): Record<string, string> =>
    Object.fromEntries(
      Object.entries(facts).map(([name, value]) => [
        name,
        typeof value === 'string'
          ? name === 'from'
            ? format.date.day(value, today)
            : value
          : code === 'turn-too-far'
            ? format.degrees(value)
            : code === 'length-not-made'
              ? format.mm(value)
              : format.dioptres(value),
      ]),
    );
  return (
    <ul className="small">
      {reasons.map(({ code, facts }) => (
        <li key={code}>{t(`offer.why.${code}`, told(code, facts))}</li>
      ))}
    </ul>
  );
}
