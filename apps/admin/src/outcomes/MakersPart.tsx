import { useTranslate } from 'react-admin';
import type { MakerScorecards } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { useFormat } from '../shared/format/use-format';
import { Answer, Empty } from '../shared/parts/Answer';
import { Section } from '../shared/parts/Page';
import { FigureCard } from './FigureCard';
import { figures } from './figure-registry';
import { Scorecard } from './Scorecard';

/** How makers keep their word, beside what chance alone would show. */
export function MakersPart() {
  const t = useTranslate();
  const format = useFormat();
  const scores = useRead<MakerScorecards>('/outcomes/makers');
  return (
    <Answer query={scores}>
      {(found) =>
        found.sentFrom === null ? (
          <Empty title={t('outcome.no_orders')}>{t('outcome.no_orders_hint')}</Empty>
        ) : (
          <>
            <Section title={t('outcome.section.funnels')}>
              <div className="figures">
                {figures.makers({ t, format }, found).map((figure) => (
                  <FigureCard key={figure.id} figure={figure} />
                ))}
              </div>
            </Section>
            <Section title={t('outcome.section.scorecards')}>
              <div className="figures">
                {found.items.map((maker) => (
                  <Scorecard key={maker.id} maker={maker} />
                ))}
              </div>
            </Section>
          </>
        )
      }
    </Answer>
  );
}
