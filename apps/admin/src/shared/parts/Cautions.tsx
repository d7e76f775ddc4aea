import { useTranslate } from 'react-admin';

/** What the product says on every screen on which somebody decides. */
export function Cautions() {
  const t = useTranslate();
  return <p className="cautions">{t('common.cautions')}</p>;
}
