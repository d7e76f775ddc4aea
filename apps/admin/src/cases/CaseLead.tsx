import { useTranslate } from 'react-admin';
import type { CaseDetail } from '@lensferry/contracts';
import { When } from '../shared/parts/When';
import { useWaiting } from './waiting';

/** The case in a sentence: what is waited for, where, and when theatre is. */
export function CaseLead({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const waiting = useWaiting(of);
  return (
    <>
      {waiting} · <span className="mono">{of.code}</span> · {of.clinic.name} · {of.surgeon.name} ·{' '}
      {of.theatreOn ? (
        <>
          {t('case.theatre')} <When date={of.theatreOn} zone={of.clinic.timeZone} />
        </>
      ) : (
        t('case.no_theatre')
      )}
      {of.withdrawnWhy && <> · {t('common.because', { why: of.withdrawnWhy })}</>}
    </>
  );
}
