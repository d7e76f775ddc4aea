import { useTranslate } from 'react-admin';
import { limitGroups, limits } from '@lensferry/domain';
import type { NetworkLimits } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { useRead } from '../providers/use-read';
import { Answer } from '../shared/parts/Answer';
import { Page, Section } from '../shared/parts/Page';
import { useDoing } from '../shared/parts/use-doing';
import { LimitRow } from './LimitRow';
import { SetLimitDialog } from './SetLimitDialog';
import './limits.css';

/** What the network judges eyes, vaults, packs and companions by: where each limit stands, and who answers for it. */
export function LimitsPage() {
  const t = useTranslate();
  const maySet = useMay('limit.set');
  const [doing, open] = useDoing();
  const query = useRead<NetworkLimits>('/limits');
  return (
    <Page title={t('place.limits')} lead={t('limit.lead')}>
      <Answer query={query}>
        {({ items }) => (
          <>
            {limitGroups.map((group) => (
              <Section key={group} title={t(`limit.group.${group}`)} note={t(`limit.source.${group}`)}>
                <ul className="card limits">
                  {items
                    .filter(({ key }) => limits[key].group === group)
                    .map((limit) => (
                      <LimitRow key={limit.key} limit={limit} onSet={maySet ? () => open(limit.key) : null} />
                    ))}
                </ul>
              </Section>
            ))}
            {items
              .filter(({ key }) => maySet && key === doing)
              .map((limit) => (
                <SetLimitDialog key={limit.key} limit={limit} onClose={() => open(null)} />
              ))}
            {!maySet && <p className="muted">{t('limit.by_surgeon')}</p>}
          </>
        )}
      </Answer>
    </Page>
  );
}
