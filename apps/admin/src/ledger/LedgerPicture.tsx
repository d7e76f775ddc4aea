import { useTranslate } from 'react-admin';
import type { LedgerBalance } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';

/** Each maker in its currency: a bar of the credits still to come by age, and its sums in words and numbers. */
export function LedgerPicture({ balances }: { balances: LedgerBalance[] }) {
  return (
    <ul className="grid-cards">
      {balances.map((balance) => (
        <BalanceCard key={`${balance.maker.id}${balance.currency}`} of={balance} />
      ))}
    </ul>
  );
}

function BalanceCard({ of }: { of: LedgerBalance }) {
  const t = useTranslate();
  const format = useFormat();
  const money = (amount: string) => format.money(amount, of.currency);
  return (
    <li className="card card--padded ledger-card">
      <h3>
        <a href={`/makers/${of.maker.id}`}>{of.maker.name}</a> <span className="muted">{of.currency}</span>
      </h3>
      {of.oldestDays === null ? (
        <p className="muted">{t('ledger.nothing_open')}</p>
      ) : (
        <>
          <p>
            <b>{money(of.expected)}</b> {t('ledger.oldest', { smart_count: of.oldestDays })}
          </p>
          <AgeBar of={of} />
        </>
      )}
      <dl className="facts">
        {(['charged', 'credited', 'difference', 'writtenOff', 'balance'] as const).map((name) => (
          <div key={name} className="ledger-sum">
            <dt>{t(`ledger.column.${name}`)}</dt>
            <dd className={name === 'balance' ? 'strong' : undefined}>{money(of[name])}</dd>
          </div>
        ))}
      </dl>
    </li>
  );
}

/** The age is told by place, by words and by how dense the ground is; not by colour alone. */
function AgeBar({ of }: { of: LedgerBalance }) {
  const t = useTranslate();
  const format = useFormat();
  const bands = of.outstanding.filter(({ returns }) => returns > 0);
  return (
    <>
      <div className="ledger-bar" aria-hidden="true">
        {bands.map(({ age, amount }) => (
          <span key={age} className={`ledger-age ledger-age--${age}`} style={{ flexGrow: Number(amount) }} />
        ))}
      </div>
      <ul className="ledger-legend">
        {bands.map(({ age, amount, returns }) => (
          <li key={age}>
            <span className={`ledger-key ledger-age--${age}`} aria-hidden="true" /> {t(`ledger.age.${age}`)}:{' '}
            {format.money(amount, of.currency)},{' '}
            <span className="muted">{t('ledger.returns', { smart_count: returns })}</span>
          </li>
        ))}
      </ul>
    </>
  );
}
