import { useI18nProvider, useTranslate } from 'react-admin';
import type { Finding } from '@lensferry/contracts';

/** A finding in the language of the screen; where that has no sentence for it, the server's own. */
export function useTellFinding(): (finding: Pick<Finding, 'code' | 'message' | 'facts'>) => string {
  const t = useTranslate();
  const locale = useI18nProvider().getLocale();
  return ({ code, facts, message }) => {
    if (facts === undefined || locale === 'en') return message;
    return t(`finding.${code}.${String(facts['say'])}`, { ...inWords(facts), _: message });
  };
}

/** Decimals with the comma that German writes. */
function inWords(facts: NonNullable<Finding['facts']>): Record<string, string> {
  return Object.fromEntries(
    Object.entries(facts).map(([name, value]) => [name, String(value).replace(/^(-?\d+)\.(\d+)$/, '$1,$2')]),
  );
}
