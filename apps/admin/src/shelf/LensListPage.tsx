import { useListContext, useTranslate } from 'react-admin';
import { Link } from 'react-router-dom';
import { lensStates } from '@lensferry/domain';
import type { LensSummary } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { ListFrame } from '../shared/parts/ListFrame';
import { LensTable } from './LensTable';

export const asks = { list: { resource: 'lenses' } } satisfies Asks;

/** Every lens unit that was taken in, and where it is. */
export function LensListPage() {
  const t = useTranslate();
  return (
    <ListFrame
      asked={asks.list}
      title={t('place.shelf')}
      lead={t('lens.list_lead')}
      empty={t('lens.list_empty')}
      actions={
        <div className="steps">
          <Link className="button" to="/lenses/counts">
            {t('count.title')}
          </Link>
          <Link className="button" to="/lenses/between">
            {t('transfer.title')}
          </Link>
          <Link className="button" to="/lenses/recall">
            {t('recall.title')}
          </Link>
        </div>
      }
      filters={{
        search: t('lens.search'),
        states: lensStates.map((value) => ({ value, label: t(`lens.state.${value}`) })),
        sorts: ['recent', 'due', 'code'],
      }}
    >
      <Rows />
    </ListFrame>
  );
}

function Rows() {
  const { data = [] } = useListContext<LensSummary>();
  return <LensTable lenses={data} />;
}
