import { useTranslate } from 'react-admin';
import type { CaseDetail } from '@lensferry/contracts';
import { Moment } from '../shared/parts/When';

/** What was decided about reporting a lens that was taken out, or the prompt to think of it. */
export function ConsideredEvent({ of, one }: { of: CaseDetail; one: CaseDetail['implantations'][number] }) {
  const t = useTranslate();
  const { consideration } = one;
  if (consideration)
    return (
      <p className="muted">
        {t(`event.decided.${consideration.decision}`)}
        {consideration.reference && <span className="mono"> {consideration.reference}</span>}:{' '}
        {consideration.why} ({consideration.decidedBy},{' '}
        <Moment at={consideration.decidedAt} zone={of.clinic.timeZone} />)
      </p>
    );
  return (
    <div className="note note--amber">
      <p>{t('event.prompt')}</p>
      {of.actions.includes('consider') && (
        <a className="button" href={`/cases/${of.id}/lenses?do=consider`}>
          {t('step.case.consider')}
        </a>
      )}
    </div>
  );
}
