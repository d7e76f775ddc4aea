import { useTranslate } from 'react-admin';
import { Empty } from '../shared/parts/Answer';
import { Page } from '../shared/parts/Page';

export function NotFound() {
  const t = useTranslate();
  return (
    <Page title={t('common.missing')}>
      <Empty title={t('frame.no_page')}>
        <a className="button" href="/">
          {t('frame.to_today')}
        </a>
      </Empty>
    </Page>
  );
}
