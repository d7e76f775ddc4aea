import { useTranslate } from 'react-admin';
import type { Finding as FindingAnswer } from '@lensferry/contracts';
import { Pill, type Tone } from './Pill';

const tones: Record<FindingAnswer['level'], Tone> = { fine: 'moss', caution: 'amber', stop: 'brick' };
const order: FindingAnswer['level'][] = ['stop', 'caution', 'fine'];

/** Findings, the gravest first; each with its word, its sentence and where its threshold comes from. */
export function Findings({ findings }: { findings: readonly FindingAnswer[] }) {
  const t = useTranslate();
  const sorted = [...findings].sort((a, b) => order.indexOf(a.level) - order.indexOf(b.level));
  return (
    <ul className="findings">
      {sorted.map((finding) => (
        <li key={finding.code}>
          <Pill tone={tones[finding.level]}>{t(`level.${finding.level}`)}</Pill> {finding.message}
          {finding.level !== 'fine' && (
            <details className="findings__source">
              <summary>{t('plan.threshold_from')}</summary>
              {finding.source}
            </details>
          )}
        </li>
      ))}
    </ul>
  );
}
