import { useTranslate } from 'react-admin';
import type { LensSummary, OrderDetail } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { LensActions } from '../shelf/LensActions';
import { LensTable } from '../shelf/LensTable';
import { Section } from '../shared/parts/Page';
import { When } from '../shared/parts/When';

/** The unit that the maker announced, and the lens that came. */
export function OrderLens({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  // Filled from the shelf, it never arrived.
  const arrived = order.arrivedAt !== null || order.state === 'accepted';
  const query = useRead<{ items: LensSummary[] }>(`/lenses?caseId=${order.case.id}&perPage=50`, arrived);
  const lenses = query.data?.items.filter((lens) => lens.order.id === order.id) ?? [];
  const announced = order.announcedUnit;
  if (!announced && lenses.length === 0) return null;
  return (
    <Section title={t('order.unit')} id="lens">
      {lenses.length > 0 ? (
        <div className="list-page">
          <LensTable lenses={lenses} withCase={false} />
          {lenses.map((lens) => (
            <LensActions key={lens.id} lens={lens} />
          ))}
        </div>
      ) : (
        announced && (
          <p className="card card--padded">
            {t('order.announced')} <span className="mono strong">{announced.serial}</span>
            {announced.lot && (
              <>
                {' '}
                · {t('lens.lot')} <span className="mono">{announced.lot}</span>
              </>
            )}{' '}
            · {t('lens.expires')} <When date={announced.expiresOn} />
          </p>
        )
      )}
    </Section>
  );
}
