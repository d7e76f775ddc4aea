import { useTranslate } from 'react-admin';
import type { MakerSummary } from '@lensferry/contracts';

/** What is agreed with a maker and how it has kept to it. */
export function MakerRecord({ maker }: { maker: MakerSummary }) {
  const t = useTranslate();
  return (
    <dl className="facts card card--padded">
      <dt>{t('maker.reached')}</dt>
      <dd>
        {t(`maker.channel.${maker.channel}`)} · {maker.contact}
        {maker.channel === 'https' && !maker.hasSecret && (
          <p className="note note--amber">{t('maker.secret.missing')}</p>
        )}
      </dd>
      <dt>{t('maker.median')}</dt>
      <dd>
        {maker.medianWorkingDays === null
          ? t('maker.too_few')
          : t('maker.days_of', { smart_count: Math.round(maker.medianWorkingDays), arrived: maker.arrived })}
      </dd>
      <dt>{t('maker.cut_off')}</dt>
      <dd>
        {maker.cutOff === null
          ? t('maker.no_cut_off')
          : t('maker.cut_off_at', { at: maker.cutOff, zone: maker.timeZone })}
      </dd>
      {maker.terms !== null && (
        <>
          <dt>{t('maker.terms')}</dt>
          <dd>{maker.terms}</dd>
        </>
      )}
      <dt>{t('maker.return_window')}</dt>
      <dd>{t('maker.days', { smart_count: maker.returnWindowDays })}</dd>
    </dl>
  );
}
