import { useTranslate } from 'react-admin';
import type { Today } from '@lensferry/contracts';
import type { Asks } from '../providers/ask-ahead';
import { useRole } from '../providers/session';
import { useRead } from '../providers/use-read';
import { useFormat, useToday } from '../shared/format/use-format';
import { Answer, Empty } from '../shared/parts/Answer';
import { Page, Section } from '../shared/parts/Page';
import { CaseRow, VaultRow } from './CaseRows';
import { Fold } from './Fold';
import { LensRow, ReturnRow } from './LensRows';
import { AtRiskRows, OrderRow } from './OrderRows';
import { CountRow, ParcelRow, TransferRow } from './ShelfRows';
import { filledSections, spokenOf, type SectionName } from './sections';
import './today.css';

export const asks = { read: '/today' } satisfies Asks;

/** What matters now for the role that is signed in; each row ends in the one step that moves it. */
export function TodayPage() {
  const t = useTranslate();
  const format = useFormat();
  const role = useRole();
  const day = useToday();
  const query = useRead<Today>(asks.read);
  const title = t('today.title', { day: format.date.long(day) });
  const said = query.data ? spokenOf(query.data, role) : [];
  const lead = said.map(({ key, count }) => t(key, { smart_count: count })).join(' ');
  return (
    <Page title={title} lead={query.data && (lead || t('today.say.nothing'))}>
      <Answer query={query}>
        {(today) => {
          const names = filledSections(today, role);
          if (names.length === 0)
            return <Empty title={t('today.empty')}>{t(`today.empty_for.${role}`)}</Empty>;
          return names.map((name, index) => (
            <Section
              key={name}
              title={t(`today.section.${name}`)}
              note={name === 'atRisk' ? t('today.worst_first') : undefined}
            >
              <ul className="card rows">
                <Rows name={name} today={today} first={index === 0} />
              </ul>
            </Section>
          ));
        }}
      </Answer>
    </Page>
  );
}

function Rows({ name, today, first }: { name: SectionName; today: Today; first: boolean }) {
  switch (name) {
    case 'atRisk':
      return <AtRiskRows orders={today.atRisk} first={first} />;
    case 'toSign':
    case 'toSubmit':
    case 'toPlace':
    case 'sendFailed':
    case 'toTell':
    case 'declined':
    case 'cancelling':
    case 'changing':
    case 'toReceive':
    case 'missingFromParcel':
      return (
        <Fold>
          {today[name].map((order, i) => (
            <OrderRow key={order.id} order={order} section={name} filled={first && i === 0} />
          ))}
        </Fold>
      );
    case 'poorVaults':
      return today.poorVaults.map(({ case: of, check }, i) => (
        <VaultRow key={check.measurementId} of={of} check={check} filled={first && i === 0} />
      ));
    case 'quarantined':
    case 'toReturn':
    case 'expiring':
      return today[name].map((lens, i) => (
        <LensRow key={lens.id} lens={lens} section={name} filled={first && i === 0} />
      ));
    case 'unexpected':
      return today.unexpected.map((parcel, i) => (
        <ParcelRow key={parcel.id} parcel={parcel} filled={first && i === 0} />
      ));
    case 'openCounts':
      return today.openCounts.map((one, i) => <CountRow key={one.id} of={one} filled={first && i === 0} />);
    case 'transfers':
      return today.transfers.map((one, i) => <TransferRow key={one.id} of={one} filled={first && i === 0} />);
    case 'returns':
      return today.returns.map((one, i) => <ReturnRow key={one.id} of={one} filled={first && i === 0} />);
    default:
      return (
        <Fold>
          {today[name].map((of, i) => (
            <CaseRow key={of.id} of={of} section={name} filled={first && i === 0} />
          ))}
        </Fold>
      );
  }
}
