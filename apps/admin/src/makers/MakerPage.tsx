import { useGetOne, useTranslate } from 'react-admin';
import { useParams } from 'react-router-dom';
import type { MakerSummary } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { Answer } from '../shared/parts/Answer';
import { Page, Section } from '../shared/parts/Page';
import { useMay } from '../providers/session';
import { listAddress } from '../shared/parts/list-address';
import { useDoing } from '../shared/parts/use-doing';
import { AddDesignDialog } from './AddDesignDialog';
import { EditMakerDialog, ReachMakerDialog } from './EditMakerDialog';
import { SecretDialog } from './SecretDialog';
import { LeadTimesPart } from './LeadTimesPart';
import { MakerRecord } from './MakerRecord';
import { DesignCard } from './DesignCard';
import { SheetDialog } from './SheetDialog';

const labels = {
  edit: 'maker.edit',
  reach: 'maker.reach',
  secret: 'maker.secret.renew',
  design: 'maker.design.add',
} as const;

export const asks = { record: 'makers' } satisfies Asks;

/** One maker: its designs with their limits, and how its deliveries and promises have gone. */
export function MakerPage() {
  const t = useTranslate();
  const { id = '' } = useParams();
  const query = useGetOne<MakerSummary>('makers', { id });
  const mayEdit = useMay('maker.edit');
  const mayReadLedger = useMay('ledger.read');
  const [doing, open] = useDoing();
  return (
    <Page
      title={query.data?.name ?? t('maker.one')}
      lead={
        query.data &&
        t('maker.page_lead', { smart_count: query.data.openOrders, late: query.data.lateOrders })
      }
      actions={
        query.data && (
          <div className="steps">
            {mayEdit &&
              (['edit', 'reach', 'secret', 'design'] as const)
                .filter((name) => name !== 'secret' || query.data?.channel === 'https')
                .map((name) => (
                  <button key={name} type="button" className="button" onClick={() => open(name)}>
                    {t(labels[name])}
                  </button>
                ))}
            {mayReadLedger && (
              <a href={listAddress('/ledger', { makerId: query.data.id })}>{t('ledger.open')}</a>
            )}
            <a href={listAddress('/orders', { makerId: query.data.id })}>{t('maker.its_orders')}</a>
          </div>
        )
      }
    >
      <Answer query={query}>
        {(maker) => (
          <>
            <Section title={t('maker.record')}>
              <MakerRecord maker={maker} />
            </Section>
            <LeadTimesPart makerId={maker.id} />
            <Section title={t('maker.designs')}>
              {maker.designs.length === 0 && <p className="muted">{t('maker.design.none')}</p>}
              <ul className="grid-cards">
                {maker.designs.map((design) => (
                  <DesignCard
                    key={design.id}
                    design={design}
                    currency={maker.currency}
                    makerId={maker.id}
                    onImport={mayEdit ? () => open(`sheet-${design.code}`) : undefined}
                  />
                ))}
              </ul>
            </Section>
            {mayEdit &&
              maker.designs
                .filter(({ code }) => doing === `sheet-${code}`)
                .map((design) => (
                  <SheetDialog
                    key={design.code}
                    makerId={maker.id}
                    design={design}
                    onClose={() => open(null)}
                  />
                ))}
            {mayEdit && doing === 'edit' && (
              <EditMakerDialog key={maker.version} maker={maker} onClose={() => open(null)} />
            )}
            {mayEdit && doing === 'reach' && (
              <ReachMakerDialog key={maker.version} maker={maker} onClose={() => open(null)} />
            )}
            {mayEdit && doing === 'secret' && <SecretDialog maker={maker} onClose={() => open(null)} />}
            {mayEdit && doing === 'design' && <AddDesignDialog maker={maker} onClose={() => open(null)} />}
          </>
        )}
      </Answer>
    </Page>
  );
}
