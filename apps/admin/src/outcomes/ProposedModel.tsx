import { useTranslate } from 'react-admin';
import { SignModel, type DesignModels, type ModelProposal, type VaultModels } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { SignatureField } from '../shared/forms/SignatureField';
import { StepDialog } from '../shared/forms/StepDialog';
import { useFormat } from '../shared/format/use-format';
import { useDoing } from '../shared/parts/use-doing';
import { Moment } from '../shared/parts/When';
import { figures } from './figure-registry';
import { FigureCard } from './FigureCard';

type Answered = VaultModels & { id: string };

/** A model that somebody proposed, what it would change, and its signature by a surgeon. */
export function ProposedModel({ design, proposal }: { design: DesignModels; proposal: ModelProposal }) {
  const t = useTranslate();
  const format = useFormat();
  const maySign = useMay('model.sign');
  const [doing, open] = useDoing();
  const signing = `sign-${design.designCode}`;
  return (
    <div className="form">
      <p className="note note--amber">
        {t(`model.open.${proposal.kind}`, { by: proposal.proposedBy })} <Moment at={proposal.proposedAt} />:{' '}
        {proposal.why}
      </p>
      {figures
        .model({ t, format }, { code: design.designCode, name: design.designName, check: proposal.check })
        .map((figure) => (
          <FigureCard key={figure.id} figure={figure} />
        ))}
      {maySign ? (
        <button type="button" className="button button--filled" onClick={() => open(signing)}>
          {t('model.sign')}
        </button>
      ) : (
        <p className="muted">{t('model.waits')}</p>
      )}
      {maySign && doing === signing && (
        <StepDialog<Answered>
          title={t('model.sign')}
          consequence={t('model.sign_consequence')}
          schema={SignModel}
          path={`/outcomes/models/proposals/${proposal.id}/sign`}
          defaults={{ password: '' }}
          done="model.signed"
          onClose={() => open(null)}
        >
          <SignatureField autoFocus />
        </StepDialog>
      )}
    </div>
  );
}
