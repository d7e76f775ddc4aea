import { useTranslate } from 'react-admin';
import type { Finding as FindingAnswer } from '@lensferry/contracts';
import { useTellFinding } from '../format/use-tell-finding';
import { Pill, type Tone } from './Pill';

const tones: Record<FindingAnswer['level'], Tone> = { fine: 'moss', caution: 'amber', stop: 'brick' };

/**
 * Findings, the gravest first; each with its word, its sentence and where its threshold comes from. Stops and
 * cautions are always open; what is fine can be folded away.
 */
export function Findings({ findings, fold = false }: { findings: readonly FindingAnswer[]; fold?: boolean }) {
  const t = useTranslate();
  const of = (level: FindingAnswer['level']) => findings.filter((finding) => finding.level === level);
  const grave = [...of('stop'), ...of('caution')];
  const fine = of('fine');
  return (
    <>
      {grave.length > 0 && <List findings={grave} />}
      {fine.length > 0 && (
        <details className="findings__fine" open={!fold}>
          <summary>{t('plan.fine', { smart_count: fine.length })}</summary>
          <List findings={fine} />
        </details>
      )}
    </>
  );
}

function List({ findings }: { findings: readonly FindingAnswer[] }) {
  const t = useTranslate();
  const tell = useTellFinding();
  return (
    <ul className="findings">
      {findings.map((finding) => (
        <li key={finding.code}>
          <Pill tone={tones[finding.level]}>{t(`level.${finding.level}`)}</Pill> {tell(finding)}
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
