import { useTranslate } from 'react-admin';
import type { FunnelPoint, MakerScorecard } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';
import { Pill } from '../shared/parts/Pill';
import { figures } from './figure-registry';
import { FigureCard } from './FigureCard';
import { shareText } from './say';

/** One maker: how long its lenses took, and how it kept its word, each share with its limits and its standing. */
export function Scorecard({ maker }: { maker: MakerScorecard }) {
  const t = useTranslate();
  const format = useFormat();
  const say = { t, format };
  return (
    <article className="card card--padded form" aria-labelledby={`score-${maker.id}`}>
      <h3 id={`score-${maker.id}`}>{maker.name}</h3>
      <dl className="facts">
        <dt>{t('outcome.score.orders')}</dt>
        <dd>{t('outcome.score.arrived', { arrived: maker.arrived, sent: maker.sent })}</dd>
        {(['promiseKept', 'labelMismatch', 'exchanged'] as const).map((what) => (
          <Held key={what} name={t(`outcome.maker.${what}`)} of={maker[what]} />
        ))}
        <dt>{t('outcome.score.reasons')}</dt>
        <dd>
          {maker.exchangeReasons.length === 0
            ? t('outcome.score.none')
            : maker.exchangeReasons.map(({ reason, share }) => (
                <p key={reason}>
                  {t('outcome.score.reason', {
                    reason: t(`exchange.reason.${reason}`),
                    count: format.whole(share.count),
                    n: format.whole(share.n),
                    share: shareText(say, share),
                  })}
                </p>
              ))}
        </dd>
        <dt>{t('outcome.score.credits')}</dt>
        <dd>
          {maker.creditsOutstanding.length === 0
            ? t('outcome.score.none')
            : maker.creditsOutstanding.map(({ amount, currency, n, oldestDays }) => (
                <p key={currency}>
                  {t('outcome.score.credit', {
                    smart_count: n,
                    amount: format.money(amount, currency),
                    days: format.whole(oldestDays),
                  })}
                </p>
              ))}
        </dd>
      </dl>
      {figures.leadTimes(say, maker).map((figure) => (
        <FigureCard key={figure.id} figure={figure} />
      ))}
    </article>
  );
}

function Held({ name, of }: { name: string; of: FunnelPoint }) {
  const t = useTranslate();
  const format = useFormat();
  return (
    <>
      <dt>{name}</dt>
      <dd>
        {of.share !== null &&
          t('outcome.score.held', {
            count: format.whole(of.share.count),
            n: format.whole(of.share.n),
            share: shareText({ t, format }, of.share),
          })}{' '}
        {of.standing.startsWith('outside') ? (
          <Pill tone="amber">{t(`outcome.standing.${of.standing}`)}</Pill>
        ) : (
          <span className="muted">{t(`outcome.standing.${of.standing}`)}</span>
        )}
      </dd>
    </>
  );
}
