import { ListBase, useListContext, useTranslate } from 'react-admin';
import { lensStates } from '@lensferry/domain';
import type { LensSummary } from '@lensferry/contracts';
import { ListBody } from '../shared/parts/ListBody';
import { ListFilters } from '../shared/parts/ListFilters';
import { Page } from '../shared/parts/Page';
import { LensTable } from './LensTable';

/** Every lens unit that was taken in, and where it is. */
export function LensListPage() {
  const t = useTranslate();
  return (
    <ListBase resource="lenses" perPage={25} sort={{ field: 'recent', order: 'DESC' }} disableAuthentication>
      <Page title={t('place.shelf')} lead={t('lens.list_lead')}>
        <ListFilters
          search={t('lens.search')}
          states={lensStates.map((value) => ({ value, label: t(`lens.state.${value}`) }))}
          sorts={['recent', 'due', 'code']}
        />
        <ListBody empty={t('lens.list_empty')}>
          <Rows />
        </ListBody>
      </Page>
    </ListBase>
  );
}

function Rows() {
  const { data = [] } = useListContext<LensSummary>();
  return <LensTable lenses={data} />;
}
