import { useTranslate } from 'react-admin';
import type { FieldVerdict } from '@lensferry/contracts';
import { useTellField } from '../shared/format/field-value';

const signs: Record<FieldVerdict['verdict'], string> = { match: '✓', mismatch: '✕', 'not on label': '…' };

/** Each field of the order beside what stands on the pack. */
export function ComparedFields({ comparison }: { comparison: readonly FieldVerdict[] }) {
  const t = useTranslate();
  const tell = useTellField();
  return (
    <table className="compare card">
      <thead>
        <tr>
          <th>{t('arrival.field')}</th>
          <th>{t('arrival.on_order')}</th>
          <th>{t('arrival.on_pack')}</th>
          <th>{t('arrival.result')}</th>
        </tr>
      </thead>
      <tbody>
        {comparison.map(({ field, expected, found, verdict }) => (
          <tr key={field} className={`compare__row compare__row--${verdict.replaceAll(' ', '-')}`}>
            <th scope="row">{t(`field.${field}`)}</th>
            {/* Until it was read off the pack, the order keeps it to itself: nobody types what they were shown. */}
            <td className="mono wraps">
              {verdict === 'not on label' ? t('arrival.hidden') : tell(field, expected)}
            </td>
            <td className="mono wraps">{verdict === 'not on label' ? '' : tell(field, found)}</td>
            <td className="compare__verdict">
              <span aria-hidden="true">{signs[verdict]}</span>{' '}
              {t(`arrival.field_verdict.${verdict.replaceAll(' ', '-')}`)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
