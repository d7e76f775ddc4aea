import { useTranslate } from 'react-admin';
import type { PooledOutcomes, RefractionOffsets, VaultLearning, VaultLearnings } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { useFormat } from '../shared/format/use-format';
import { Answer, Empty, Loading } from '../shared/parts/Answer';
import { Section } from '../shared/parts/Page';
import { FigureCard } from './FigureCard';
import { figures } from './figure-registry';
import { Offsets } from './Offsets';
import { Pooled, PooledVault } from './Pooled';
import { useFilters } from './use-filters';
import { VaultModels } from './VaultModels';

/** What vaults and refractions have taught; shown and offered, applied nowhere. */
export function LearningPart() {
  const t = useTranslate();
  const { query } = useFilters();
  const vault = useRead<VaultLearnings>(`/outcomes/vault${query}`);
  const refraction = useRead<RefractionOffsets>(`/outcomes/refraction${query}`);
  const pooled = useRead<PooledOutcomes>('/outcomes/pooled');
  // All at once: a section that comes late would push the ones below it away from under the eye.
  if ([vault, refraction, pooled].some(({ isPending }) => isPending)) return <Loading />;
  return (
    <>
      <Section title={t('outcome.section.vault')} note={t('outcome.not_used')}>
        <Answer query={vault}>
          {({ items }) =>
            items.every(({ n }) => n === 0) ? (
              <Empty title={t('outcome.no_vaults')}>{t('outcome.no_vaults_hint')}</Empty>
            ) : (
              <div className="figures">
                {items.map((item) => (
                  <Learned key={item.designCode} learning={item} />
                ))}
              </div>
            )
          }
        </Answer>
      </Section>
      <VaultModels />
      <Section title={t('outcome.section.offsets')} note={t('outcome.not_applied')}>
        <Answer query={refraction}>{(offsets) => <Offsets offsets={offsets} />}</Answer>
      </Section>
      <Pooled />
    </>
  );
}

function Learned({ learning }: { learning: VaultLearning }) {
  const t = useTranslate();
  const format = useFormat();
  const [figure] = figures.learning({ t, format }, learning);
  const whole = (value: number) => format.whole(value);
  return (
    <div className="form">
      {figure === undefined ? (
        <p>{t('outcome.finding.too_few_of', { smart_count: learning.n })}</p>
      ) : (
        <FigureCard figure={figure} />
      )}
      <PooledVault pooled={learning.pooled} />
      <details className="figure__table">
        <summary>
          {t('outcome.coefficients', { model: `${learning.model.id} ${learning.model.version}` })}
        </summary>
        <p className="muted">{learning.model.source}</p>
        <table className="table">
          <thead>
            <tr>
              {['of', 'start', 'in_use', 'now'].map((head) => (
                <th key={head} scope="col">
                  {t(`outcome.head.${head}`)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {learning.coefficients.map(({ of, clinic, startUm, usedUm, nowUm, sdUm }) => (
              <tr key={`${of}${clinic ?? ''}`}>
                <th scope="row">{clinic ?? t(`outcome.coefficient.${of}`)}</th>
                <td className="number mono">{whole(startUm)}</td>
                <td className="number mono">{usedUm === null ? '–' : whole(usedUm)}</td>
                <td className="number mono">
                  {whole(nowUm)} ± {whole(sdUm)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </div>
  );
}
