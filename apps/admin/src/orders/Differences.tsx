import { useTranslate } from 'react-admin';
import type { OrderDetail } from '@lensferry/contracts';
import { useTellField } from '../shared/format/field-value';
import { Section } from '../shared/parts/Page';

interface Props {
  title: string;
  differences: OrderDetail['differencesSinceSubmission'];
  tone?: 'amber';
}

/** What differs between two specifications, field by field; nothing when nothing does. */
export function Differences({ title, differences, tone }: Props) {
  const t = useTranslate();
  const tell = useTellField();
  if (differences.length === 0) return null;
  return (
    <Section title={title}>
      <div className={tone ? `note note--${tone}` : 'list-page'}>
        <table className="table">
          <thead>
            <tr>
              <th>{t('order.field')}</th>
              <th>{t('order.before')}</th>
              <th>{t('order.now')}</th>
            </tr>
          </thead>
          <tbody>
            {differences.map(({ field, before, after }) => (
              <tr key={field}>
                <th scope="row">{t(`field.${field}`)}</th>
                <td className="mono">
                  <del>{tell(field, before)}</del>
                </td>
                <td className="mono strong">
                  <ins>{tell(field, after)}</ins>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Section>
  );
}
