import { useTranslate } from 'react-admin';
import { useSearchParams } from 'react-router-dom';
import type { Ledger, LedgerQuery } from '@lensferry/contracts';
import { useRead } from '../providers/use-read';
import { useMay, useSession } from '../providers/session';
import { Answer, Empty } from '../shared/parts/Answer';
import { Page, Section } from '../shared/parts/Page';
import { LedgerFilters } from './LedgerFilters';
import { LedgerPicture } from './LedgerPicture';
import { LedgerTable } from './LedgerTable';
import './ledger.css';

const names = ['makerId', 'clinicId', 'from', 'to'] as const satisfies readonly (keyof LedgerQuery)[];

/** What each maker charged and credited, and what it still owes: the picture of what is missing before the entries. */
export function LedgerPage() {
  const t = useTranslate();
  if (useMay('ledger.read')) return <Books />;
  return (
    <Page title={t('place.ledger')}>
      <Empty title={t('common.forbidden')} />
    </Page>
  );
}

function Books() {
  const t = useTranslate();
  const session = useSession();
  const [search, setSearch] = useSearchParams();
  const values = Object.fromEntries(names.map((name) => [name, search.get(name) ?? ''])) as Record<
    (typeof names)[number],
    string
  >;
  const asked = new URLSearchParams(Object.entries(values).filter(([, value]) => value !== '')).toString();
  const query = asked === '' ? '' : `?${asked}`;
  const ledger = useRead<Ledger>(`/ledger${query}`);
  const set = (name: string, value: string) =>
    setSearch(
      (before) => {
        const next = new URLSearchParams(before);
        if (value === '') next.delete(name);
        else next.set(name, value);
        return next;
      },
      { replace: true },
    );
  return (
    <Page
      title={t('place.ledger')}
      lead={t('ledger.lead')}
      actions={
        <a className="button" href={`/api/ledger.csv${query}`} download>
          {t('ledger.export')}
        </a>
      }
    >
      <LedgerFilters values={values} clinics={session.clinics} set={set} />
      <Answer query={ledger}>
        {({ balances, entries, total }) =>
          total === 0 ? (
            <Empty title={t('ledger.none')}>
              <p>{t(asked === '' ? 'ledger.none_hint' : 'ledger.none_found')}</p>
            </Empty>
          ) : (
            <>
              <Section title={t('ledger.outstanding')} note={t('ledger.outstanding_note')}>
                <LedgerPicture balances={balances} />
              </Section>
              <Section
                title={t('ledger.entries')}
                note={
                  entries.length < total
                    ? t('ledger.latest', { shown: entries.length, total })
                    : t('ledger.all', { smart_count: total })
                }
              >
                <LedgerTable entries={entries} />
              </Section>
            </>
          )
        }
      </Answer>
    </Page>
  );
}
