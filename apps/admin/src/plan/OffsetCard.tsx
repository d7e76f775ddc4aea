import { useTranslate } from 'react-admin';
import type { OffsetOffer, OfferedOffset } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { useFormat } from '../shared/format/use-format';
import { LensText } from '../shared/parts/LensText';
import { Pill } from '../shared/parts/Pill';
import { Section } from '../shared/parts/Page';

interface Props {
  offered: OffsetOffer;
  used: boolean;
  onUse: (used: boolean) => void;
}

/** What eyes like this one came out away from their plans: offered with its doubt, used only where a surgeon says so. */
export function OffsetCard({ offered: { offer, leastEyes }, used, onUse }: Props) {
  const t = useTranslate();
  const format = useFormat();
  const mayUse = useMay('plan.offset');
  if (offer === null) return null;
  const part = ({ estimateD, lowD, highD }: OfferedOffset['mean']): string =>
    `${format.dioptres(estimateD)} (${format.diopterRange(lowD, highD)})`;
  return (
    <Section title={t('offset.title')} note={t('offset.note')}>
      <div className="card card--padded form">
        <p>
          {t('offset.of', {
            device: offer.device,
            clinic: offer.clinic,
            axis: t(`outcome.axis_class.${offer.axisClass}`),
          })}{' '}
          {t('offset.behind', { smart_count: offer.n, eyes: offer.eyes })}{' '}
          {offer.beyondDoubt ? (
            <Pill tone="amber">{t('outcome.worth_a_look')}</Pill>
          ) : (
            <span className="muted">{t('outcome.within_doubt')}</span>
          )}
        </p>
        <dl className="facts">
          <dt>{t('outcome.head.mean_offset')}</dt>
          <dd className="mono">{part(offer.mean)}</dd>
          <dt>J0</dt>
          <dd className="mono">{part(offer.j0)}</dd>
          <dt>J45</dt>
          <dd className="mono">{part(offer.j45)}</dd>
          <dt>{t('offset.from')}</dt>
          <dd>
            <LensText lens={offer.refraction} />
          </dd>
        </dl>
        {!offer.usable && <p className="muted">{t('offset.too_few', { least: leastEyes })}</p>}
        {offer.usable && !mayUse && <p className="muted">{t('offset.surgeon')}</p>}
        {offer.usable && mayUse && (
          <label className="check">
            <input type="checkbox" checked={used} onChange={(event) => onUse(event.target.checked)} />
            <span>{t('offset.use')}</span>
          </label>
        )}
      </div>
    </Section>
  );
}
