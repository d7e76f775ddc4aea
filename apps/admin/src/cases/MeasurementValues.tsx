import { useTranslate } from 'react-admin';
import { measurementKinds } from '@lensferry/domain';
import type { Measurement } from '@lensferry/contracts';
import { useFormat, useToday } from '../shared/format/use-format';

/** The values of a measurement in a line, each with its unit. A refraction reads as one. */
export function MeasurementValues({ measurement }: { measurement: Pick<Measurement, 'kind' | 'values'> }) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday();
  const { kind, values } = measurement;
  const one = kind === 'refraction' ? ['sphereD', 'cylinderD', 'axisDeg'] : [];
  const refraction = kind === 'refraction' && (
    <span className="mono strong nowrap">
      {format.lens({
        sphereD: Number(values['sphereD']),
        cylinderD: Number(values['cylinderD']),
        axisDeg: (values['axisDeg'] ?? null) as number | null,
      })}
    </span>
  );
  return (
    <p className="reading__values">
      {refraction}
      {measurementKinds[kind].map((field) => {
        const value = values[field.name];
        if (value === undefined || value === null || one.includes(field.name)) return null;
        const shown =
          field.type === 'number'
            ? format.withUnit(Number(value), field.unit === 'decimal' ? '' : field.unit)
            : field.type === 'date'
              ? format.date.day(String(value), today)
              : t(`choice.${String(value).replaceAll('.', '_')}`, { _: String(value) });
        return (
          <span key={field.name} className="nowrap">
            <span className="muted">{t(`field.${field.name}`)}</span>{' '}
            <span className={field.type === 'number' ? 'mono' : undefined}>{shown}</span>
          </span>
        );
      })}
    </p>
  );
}
