import { useTranslate } from 'react-admin';
import type { CaseDetail, PlanInput } from '@lensferry/contracts';
import { MeasurementValues } from '../cases/MeasurementValues';
import { Section } from '../shared/parts/Page';
import { When } from '../shared/parts/When';

/** The measurements that the numbers were taken from, each with its day, device and observer. */
export function MeasuredTable({ of, input }: { of: CaseDetail; input: PlanInput }) {
  const t = useTranslate();
  const used = of.measurements.filter(({ id }) => input.measurementIds.includes(id));
  return (
    <Section title={t('plan.measured')} note={t('plan.measured_note')}>
      <div className="list-page">
        <table className="table table--stack">
          <tbody>
            {used.map((measurement) => (
              <tr key={measurement.id}>
                <th scope="row">
                  {t(`kind.${measurement.kind}`)}
                  <p className="muted small">
                    <When date={measurement.takenOn} zone={of.clinic.timeZone} />
                  </p>
                </th>
                <td>
                  <MeasurementValues measurement={measurement} />
                  <p className="muted small">
                    {measurement.device} · {measurement.observer}
                  </p>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Section>
  );
}
