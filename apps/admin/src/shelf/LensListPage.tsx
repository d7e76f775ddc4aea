import { useListContext, useTranslate } from 'react-admin';
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
          <a className="button" href="/lenses/counts">
            {t('count.title')}
          </a>
          <a className="button" href="/lenses/between">
            {t('transfer.title')}
          </a>
          <a className="button" href="/lenses/recall">
            {t('recall.title')}
          </a>
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
