import { useTranslate } from 'react-admin';
import type { OrderDetail } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';
import { Section } from '../shared/parts/Page';

interface Props {
  title: string;
  differences: OrderDetail['differencesSinceSubmission'];
  tone?: 'amber';
}

/** What differs between two specifications, field by field; nothing when nothing does. */
export function Differences({ title, differences, tone }: Props) {
  const t = useTranslate();
  const format = useFormat();
  if (differences.length === 0) return null;
  const shown = (value: string | number | null) =>
    value === null
      ? '–'
      : typeof value === 'number'
        ? format.plain(value)
        : value === 'OD' || value === 'OS'
          ? t(`eye.${value}`)
          : value;
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
                  <del>{shown(before)}</del>
                </td>
                <td className="mono strong">
                  <ins>{shown(after)}</ins>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Section>
  );
}
