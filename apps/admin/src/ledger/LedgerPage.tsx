import type { ReactNode } from 'react';
import { useListContext, useTranslate } from 'react-admin';
import type { LedgerBalances, LedgerEntry } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { useMay } from '../providers/session';
import { Answer, Empty } from '../shared/parts/Answer';
import { ListFrame } from '../shared/parts/ListFrame';
import { Page, Section } from '../shared/parts/Page';
import { LedgerFilters } from './LedgerFilters';
import { LedgerPicture } from './LedgerPicture';
import { LedgerTable } from './LedgerTable';
import { useLedgerQuery } from './use-ledger-query';
import './ledger.css';

/** What each maker charged and credited, and what it still owes: the picture of what is missing before the entries. */
export function LedgerPage() {
  const t = useTranslate();
  if (!useMay('ledger.read'))
    return (
      <Page title={t('place.ledger')}>
        <Empty title={t('common.forbidden')} />
      </Page>
    );
  return (
    <ListFrame
      asked={{ resource: 'ledger' }}
      title={t('place.ledger')}
      lead={t('ledger.lead')}
      empty={t('ledger.none_hint')}
      actions={<ExportLink />}
      views={<LedgerFilters />}
      around={(entries) => <Balances>{entries}</Balances>}
    >
      <Entries />
    </ListFrame>
  );
}

function ExportLink() {
  const t = useTranslate();
  return (
    <a className="button" href={`/api/ledger.csv${useLedgerQuery()}`} download>
      {t('ledger.export')}
    </a>
  );
}

/** The sums, then the entries and what those are. */
function Balances({ children }: { children: ReactNode }) {
  const t = useTranslate();
  const answer = useRead<LedgerBalances>(`/ledger/balances${useLedgerQuery()}`);
  return (
    <Answer query={answer}>
      {({ balances }) => (
        <>
          {balances.length > 0 && (
            <>
              <Section title={t('ledger.outstanding')} note={t('ledger.outstanding_note')}>
                <LedgerPicture balances={balances} />
              </Section>
              <h2 className="ledger-head">{t('ledger.entries')}</h2>
            </>
          )}
          {children}
        </>
      )}
    </Answer>
  );
}

function Entries() {
  const { data = [] } = useListContext<LedgerEntry>();
  return <LedgerTable entries={data} />;
}
