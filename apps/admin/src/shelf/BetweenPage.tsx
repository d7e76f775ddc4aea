import { useTranslate } from 'react-admin';
import { openTransfers } from '@lensferry/domain';
import type { LensTransfers } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { Answer, Empty } from '../shared/parts/Answer';
import { Page, Section } from '../shared/parts/Page';
import { TransferRows } from './TransferRows';

/** Lenses between the network's clinics: what is under way, and what ended lately. */
export function BetweenPage() {
  const t = useTranslate();
  const query = useRead<LensTransfers>('/transfers');
  return (
    <Page title={t('transfer.title')} lead={t('transfer.lead')}>
      <Answer query={query}>
        {({ items }) => {
          const open = items.filter(({ state }) => openTransfers.includes(state));
          const ended = items.filter(({ state }) => !openTransfers.includes(state));
          if (items.length === 0) return <Empty title={t('transfer.none')}>{t('transfer.none_hint')}</Empty>;
          return (
            <>
              {open.length > 0 && <TransferRows transfers={open} />}
              {ended.length > 0 && (
                <Section title={t('transfer.ended')}>
                  <TransferRows transfers={ended} />
                </Section>
              )}
            </>
          );
        }}
      </Answer>
    </Page>
  );
}
