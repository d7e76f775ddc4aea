import { useListContext, useTranslate } from 'react-admin';
import type { MakerSummary } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { useMay } from '../providers/session';
import { useFormat } from '../shared/format/use-format';
import { ListFrame } from '../shared/parts/ListFrame';
import { Pill } from '../shared/parts/Pill';
import { useDoing } from '../shared/parts/use-doing';
import { AddMakerDialog } from './AddMakerDialog';

export const asks = { list: { resource: 'makers', perPage: 200 } } satisfies Asks;

/** The makers: what they make, how they are reached, how long they take and how well they keep their word. */
export function MakerListPage() {
  const t = useTranslate();
  const mayEdit = useMay('maker.edit');
  const [doing, open] = useDoing();
  return (
    <ListFrame
      asked={asks.list}
      title={t('place.makers')}
      lead={t('maker.lead')}
      empty={t('maker.none')}
      bare
      actions={
        mayEdit && (
          <>
            <button type="button" className="button" onClick={() => open('add')}>
              {t('maker.add.title')}
            </button>
            {doing === 'add' && <AddMakerDialog onClose={() => open(null)} />}
          </>
        )
      }
    >
      <Cards />
    </ListFrame>
  );
}

function Cards() {
  const { data = [] } = useListContext<MakerSummary>();
  return (
    <ul className="grid-cards">
      {data.map((maker) => (
        <MakerCard key={maker.id} maker={maker} />
      ))}
    </ul>
  );
}

function MakerCard({ maker }: { maker: MakerSummary }) {
  const t = useTranslate();
  const format = useFormat();
  const { kept, of } = maker.promisesKept;
  return (
    <li className="card card--padded form">
      <h2>
        <a href={`/makers/${maker.id}`}>{maker.name}</a>
      </h2>
      <p className="steps">
        <Pill tone="plain">{t(`maker.channel.${maker.channel}`)}</Pill>
        {maker.lateOrders > 0 && (
          <Pill tone="amber">{t('maker.late', { smart_count: maker.lateOrders })}</Pill>
        )}
      </p>
      <dl className="facts">
        <dt>{t('maker.open_orders')}</dt>
        <dd>{format.whole(maker.openOrders)}</dd>
        <dt>{t('maker.median')}</dt>
        <dd>
          {maker.medianWorkingDays === null
            ? t('maker.too_few')
            : t('maker.days_of', {
                smart_count: Math.round(maker.medianWorkingDays),
                arrived: maker.arrived,
              })}
        </dd>
        <dt>{t('maker.promises')}</dt>
        <dd>{of === 0 ? t('maker.too_few') : t('maker.kept', { kept, of })}</dd>
        <dt>{t('maker.return_window')}</dt>
        <dd>{t('maker.days', { smart_count: maker.returnWindowDays })}</dd>
        <dt>{t('maker.designs')}</dt>
        <dd>{maker.designs.map(({ name }) => name).join(', ')}</dd>
      </dl>
    </li>
  );
}
