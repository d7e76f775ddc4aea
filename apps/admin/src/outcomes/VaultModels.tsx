import { useTranslate } from 'react-admin';
import { ProposeModel, type DesignModels, type VaultModels as Models } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { useRead } from '../providers/use-read';
import { TextField } from '../shared/forms/fields';
import { StepDialog } from '../shared/forms/StepDialog';
import { useFormat } from '../shared/format/use-format';
import { Answer } from '../shared/parts/Answer';
import { Section } from '../shared/parts/Page';
import { useDoing } from '../shared/parts/use-doing';
import { When } from '../shared/parts/When';
import { ProposedModel } from './ProposedModel';

type Answered = Models & { id: string };

/** The model that each design's sizes are suggested by: in use, proposed by one person, and signed by another. */
export function VaultModels() {
  const t = useTranslate();
  const query = useRead<Models>('/outcomes/models');
  return (
    <Section title={t('model.title')} note={t('model.note')}>
      <Answer query={query}>
        {({ items }) => (
          <div className="figures">
            {items.map((design) => (
              <Design key={design.designCode} design={design} />
            ))}
          </div>
        )}
      </Answer>
    </Section>
  );
}

function Design({ design }: { design: DesignModels }) {
  const t = useTranslate();
  const format = useFormat();
  const mayPropose = useMay('model.propose');
  const [doing, open] = useDoing();
  const { inUse, open: proposal, designCode } = design;
  const kinds = ['learned', ...(design.hasFormer ? ['former'] : [])] as const;
  return (
    <article className="card card--padded form" aria-labelledby={`model-${designCode}`}>
      <h3 id={`model-${designCode}`}>
        {design.designName}, {design.makerName}
      </h3>
      <p>
        {t('model.in_use', {
          model: `${inUse.id} ${inUse.version}`,
          spread: format.whole(inUse.residualSdUm),
        })}{' '}
        <span className="muted">{inUse.source}</span>
      </p>
      {proposal && <ProposedModel design={design} proposal={proposal} />}
      {mayPropose && (
        <div className="steps no-print">
          {kinds.map((kind) => (
            <button key={kind} type="button" className="button" onClick={() => open(`${kind}-${designCode}`)}>
              {t(`model.propose.${kind}`)}
            </button>
          ))}
        </div>
      )}
      {kinds.map(
        (kind) =>
          mayPropose &&
          doing === `${kind}-${designCode}` && (
            <StepDialog<Answered>
              key={kind}
              title={t(`model.propose.${kind}`)}
              consequence={t('model.propose_consequence')}
              schema={ProposeModel}
              path="/outcomes/models/proposals"
              defaults={{ designCode, kind, version: design.version, why: '' }}
              done="model.proposed"
              onClose={() => open(null)}
            >
              <TextField name="why" label={t('common.why')} long autoFocus />
            </StepDialog>
          ),
      )}
      <History design={design} />
    </article>
  );
}

function History({ design }: { design: DesignModels }) {
  const t = useTranslate();
  return (
    <details className="figure__table">
      <summary>{t('model.history')}</summary>
      <ul className="form">
        {design.history.map(({ version, validFrom, model, signed }) => (
          <li key={version}>
            {t('model.version', { version })} <When date={validFrom} />
            {model && ` · ${model.id} ${model.version}`}
            <p className="muted small">
              {signed
                ? t('model.signed_by', { by: signed.by, proposedBy: signed.proposedBy, why: signed.why })
                : t('model.with_sheet')}
            </p>
          </li>
        ))}
      </ul>
    </details>
  );
}
