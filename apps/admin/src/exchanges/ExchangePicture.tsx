import { useTranslate } from 'react-admin';
import { VAULT_BANDS } from '@lensferry/calculation';
import type { ExchangeProposal } from '@lensferry/contracts';
import { SizeBars } from '../shared/drawing/SizeBars';

/** What this eye's own vault says about each size: the lens that lies there, and the size to go to. */
export function ExchangePicture({ proposal }: { proposal: ExchangeProposal }) {
  const t = useTranslate();
  return (
    <div className="form">
      <p className="strong">{proposal.sentence}</p>
      <SizeBars
        sizes={proposal.sizes}
        chosenMm={proposal.proposedLengthMm}
        band={{ lowUm: VAULT_BANDS.lowBelowUm, highUm: VAULT_BANDS.highAboveUm }}
        measured={
          proposal.measuredVaultUm === null
            ? null
            : { lengthMm: proposal.currentLengthMm, vaultUm: proposal.measuredVaultUm }
        }
      />
      {proposal.reasons.length > 0 && (
        <details className="small">
          <summary>{t('exchange.grounds')}</summary>
          <ul className="muted">
            {proposal.reasons.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}
