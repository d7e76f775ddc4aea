import { useTranslate } from 'react-admin';
import type { MakerScorecard, MakerScorecards } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { useFormat } from '../shared/format/use-format';
import { Answer } from '../shared/parts/Answer';
import { Section } from '../shared/parts/Page';
import { FigureCard } from './FigureCard';
import { figures } from './figure-registry';

/** How makers keep their word, beside what chance alone would show. */
export function MakersPart() {
  const t = useTranslate();
  const format = useFormat();
  const scores = useRead<MakerScorecards>('/outcomes/makers');
  return (
    <Answer query={scores}>
      {(found) => (
        <>
          <Section title={t('outcome.section.funnels')}>
            <div className="figures">
              {figures.makers({ t, format }, found).map((figure) => (
                <FigureCard key={figure.id} figure={figure} />
              ))}
            </div>
          </Section>
          <Section title={t('outcome.section.scorecards')}>
            <ul className="grid-cards">
              {found.items.map((maker) => (
                <Scorecard key={maker.id} maker={maker} />
              ))}
            </ul>
          </Section>
        </>
      )}
    </Answer>
  );
}

function Scorecard({ maker }: { maker: MakerScorecard }) {
  const t = useTranslate();
  const format = useFormat();
  const { p10, p50, p90 } = maker.leadDays;
  const days = (value: number | null) => (value === null ? '…' : format.whole(value));
  return (
    <li className="card card--padded form">
      <h3>{maker.name}</h3>
      <dl className="facts">
        <dt>{t('outcome.score.orders')}</dt>
        <dd>{t('outcome.score.arrived', { arrived: maker.arrived, sent: maker.sent })}</dd>
        <dt>{t('outcome.score.days')}</dt>
        <dd>{t('outcome.score.lead', { p10: days(p10), p50: days(p50), p90: days(p90) })}</dd>
        <dt>{t('outcome.score.reasons')}</dt>
        <dd>
          {maker.exchangeReasons.length === 0
            ? t('outcome.score.none')
            : maker.exchangeReasons
                .map(({ reason, n }) => `${t(`exchange.reason.${reason}`)}: ${n}`)
                .join(', ')}
        </dd>
        <dt>{t('outcome.score.credits')}</dt>
        <dd>
          {maker.creditsOutstanding.length === 0
            ? t('outcome.score.none')
            : maker.creditsOutstanding
                .map(({ amount, currency }) => format.money(amount, currency))
                .join(', ')}
        </dd>
      </dl>
    </li>
  );
}
