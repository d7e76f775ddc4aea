import { useTranslate } from 'react-admin';
import { Link } from 'react-router-dom';
import { Empty } from '../shared/parts/Answer';
import { Page } from '../shared/parts/Page';

export function NotFound() {
  const t = useTranslate();
  return (
    <Page title={t('common.missing')}>
      <Empty title={t('frame.no_page')}>
        <Link className="button" to="/">
          {t('frame.to_today')}
        </Link>
      </Empty>
    </Page>
  );
}
