import { useTranslate } from 'react-admin';
import type { UnexpectedParcel } from '@lensferry/contracts';
import { useTellField } from '../shared/format/field-value';

/** What stands on a parcel that nobody expected, as far as somebody read it. */
export function ReadOff({ parcel }: { parcel: Pick<UnexpectedParcel, 'found'> }) {
  const t = useTranslate();
  const tell = useTellField();
  const found = Object.entries(parcel.found).filter(([, value]) => value !== null);
  if (found.length === 0) return <>{t('arrival.nothing_read')}</>;
  return <>{found.map(([field, value]) => `${t(`field.${field}`)} ${tell(field, value)}`).join(', ')}</>;
}
