import { useTranslate } from 'react-admin';
import type { LensSummary } from '@lensferry/contracts';
import { useFormat, useToday } from '../shared/format/use-format';

/** Why the expiry of a lens is to be looked at, in a sentence; null where it isn't. */
export function useTellExpiry(): (lens: Pick<LensSummary, 'expiresOn' | 'expiryWarning'>) => string | null {
  const t = useTranslate();
  const format = useFormat();
  const today = useToday();
  return ({ expiresOn, expiryWarning: warning }) =>
    warning &&
    t(`lens.expiry_says.${warning.says}`, {
      smart_count: warning.days,
      day: format.date.day(expiresOn, today),
      theatre: warning.theatreOn && format.date.day(warning.theatreOn, today),
    });
}
