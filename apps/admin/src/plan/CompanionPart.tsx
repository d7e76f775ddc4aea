import { useTranslate } from 'react-admin';
import type { CompanionSettings, SizeOption } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';
import { Section } from '../shared/parts/Page';
import type { Companion } from './companion';
import { CostBars } from './CostBars';

interface Props {
  companion: Companion;
  /** The chosen size and the smaller one, as they are forecast. */
  chosen: SizeOption;
  smaller: SizeOption | undefined;
  settings: CompanionSettings;
  currency: string;
  ordered: boolean;
  onOrder: (ordered: boolean) => void;
}

/** Whether a smaller lens is worth ordering beside the chosen one: both ways by what they cost, and the doubt in it. */
export function CompanionPart({ companion, chosen, smaller, settings, currency, ordered, onOrder }: Props) {
  const t = useTranslate();
  const format = useFormat();
  const { judged, lengthMm, waitDays } = companion;
  const money = (amount: number): string => format.money(Math.abs(amount).toFixed(2), currency);
  return (
    <Section title={t('companion.title')} note={t('companion.note')}>
      <div className="card card--padded form">
        <p className="strong">
          {t(judged.proposed ? 'companion.proposed' : 'companion.not_proposed', {
            chance: format.percent(judged.chance),
            chosen: format.mm(chosen.lengthMm),
            smaller: format.mm(lengthMm),
          })}{' '}
          {t(judged.saving > 0 ? 'companion.saves' : 'companion.costs', { amount: money(judged.saving) })}
        </p>
        <CostBars judged={judged} currency={currency} />
        {smaller && (
          <p>
            {t('companion.smaller', {
              length: format.mm(lengthMm),
              intended: format.percent(smaller.intended),
              low: format.percent(smaller.low),
            })}
          </p>
        )}
        <p className="muted small">
          {t('companion.assumes', {
            operation: money(settings.secondOperation),
            days: waitDays,
            perDay: money(settings.waitingPerDay),
            restocking: format.percent(settings.restockingShare),
            credit: format.percent(settings.explantedCreditShare),
            seen: format.percent(settings.seenInTheatreShare),
          })}{' '}
          {judged.evenChance !== null && t('companion.even', { chance: format.percent(judged.evenChance) })}{' '}
          {t('companion.doubt')} <a href="/limits">{t('limit.where')}</a>
        </p>
        <label className="check">
          <input type="checkbox" checked={ordered} onChange={(event) => onOrder(event.target.checked)} />{' '}
          {t('companion.order', { length: format.mm(lengthMm) })}
        </label>
      </div>
    </Section>
  );
}
