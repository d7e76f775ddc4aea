import { useTranslate } from 'react-admin';
import type { MakerOffer, UnableDesign } from '@lensferry/contracts';
import { toneOfChance } from '../shared/drawing/scales';
import { useFormat, useToday } from '../shared/format/use-format';
import { Pill } from '../shared/parts/Pill';
import { TableWrap } from '../shared/parts/TableWrap';
import { When } from '../shared/parts/When';
import { WhyUnable } from './WhyUnable';

interface Props {
  offers: readonly MakerOffer[];
  unable: readonly UnableDesign[];
  zone: string;
}

/** Makers side by side: who can make it, for how much, by when with what chance, until when to order; who can't and why. */
export function OffersTable({ offers, unable, zone }: Props) {
  const t = useTranslate();
  return (
    <TableWrap label={t('list.table', { name: t('offer.title') })}>
      <table className="table table--stack">
        <thead>
          <tr>
            <th>{t('plan.maker')}</th>
            <th>{t('order.price')}</th>
            <th>{t('offer.here')}</th>
            <th>{t('offer.chance')}</th>
            <th>{t('offer.order_by')}</th>
            <th>{t('offer.earliest')}</th>
          </tr>
        </thead>
        <tbody>
          {offers.map((offer) => (
            <Row key={offer.designVersionId} offer={offer} zone={zone} />
          ))}
          {unable.map((design) => (
            <tr key={design.designVersionId}>
              <th scope="row">
                {design.makerName}
                <p className="muted small">{design.designName}</p>
              </th>
              <td colSpan={5}>
                <p className="muted">{t('offer.cannot')}</p>
                <WhyUnable reasons={design.reasons} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableWrap>
  );
}

function Row({ offer, zone }: { offer: MakerOffer; zone: string }) {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday(zone);
  const { dates } = offer;
  const chance = dates.chanceForTheatre;
  return (
    <tr>
      <th scope="row">
        {offer.makerName}
        <p className="muted small">
          {offer.designName} · <span className="mono">{format.lens(offer)}</span>
        </p>
      </th>
      <td data-label={t('order.price')}>{format.money(offer.price, offer.currency)}</td>
      <td data-label={t('offer.here')}>
        {t('offer.between', {
          from: format.date.day(dates.p10, today),
          to: format.date.day(dates.p90, today),
        })}
        <p className="muted small">
          {t(dates.basedOn === 0 ? 'order.based_on_quote' : 'order.based_on', { smart_count: dates.basedOn })}
        </p>
      </td>
      <td data-label={t('offer.chance')}>
        {chance === null ? (
          t('order.no_date')
        ) : (
          <Pill tone={toneOfChance(chance)}>{t('order.in_time', { chance: format.percent(chance) })}</Pill>
        )}
      </td>
      <td data-label={t('offer.order_by')}>
        {dates.orderBy === null ? '–' : <When date={dates.orderBy} zone={zone} />}
        {dates.tooLate && (
          <p>
            <Pill tone="brick">{t('offer.too_late')}</Pill>
          </p>
        )}
        {dates.cutOff && (
          <p className="muted small">
            {t('offer.before', { at: dates.cutOff.at, zone: dates.cutOff.timeZone })}
          </p>
        )}
      </td>
      <td data-label={t('offer.earliest')}>
        <When date={dates.earliestTheatreOn} zone={zone} />
      </td>
    </tr>
  );
}
