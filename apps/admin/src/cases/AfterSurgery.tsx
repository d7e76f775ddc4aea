import { useTranslate } from 'react-admin';
import type { CaseDetail } from '@lensferry/contracts';
import { useFormat } from '../shared/format/use-format';
import { Pill, type Tone } from '../shared/parts/Pill';
import { Section } from '../shared/parts/Page';
import { When } from '../shared/parts/When';
import { useTellRotation, useTellVault } from './tell-after-surgery';

const tones: Record<'fine' | 'caution' | 'stop', Tone> = { fine: 'moss', caution: 'amber', stop: 'brick' };
const turns: Record<'leave' | 'turn' | 'exchange', Tone> = {
  leave: 'moss',
  turn: 'amber',
  exchange: 'brick',
};

/** What was seen since the operation: vaults with their band, and what the lens's axis asks for. */
export function AfterSurgery({ of }: { of: CaseDetail }) {
  const t = useTranslate();
  const format = useFormat();
  const tellVault = useTellVault();
  const tellRotation = useTellRotation();
  const zone = of.clinic.timeZone;
  if (of.vaultChecks.length === 0 && of.rotation === null)
    return (
      <Section title={t('case.after')}>
        <p className="muted">{t('case.not_seen_yet')}</p>
      </Section>
    );
  return (
    <Section title={t('case.after')}>
      <ul className="card card--padded form">
        {[...of.vaultChecks].reverse().map((check) => (
          <li key={check.measurementId}>
            <Pill tone={tones[check.level]}>
              {t(`vault.${check.band}`)} {format.um(check.vaultUm)}
            </Pill>{' '}
            {tellVault(check)}{' '}
            <span className="muted">
              <When date={check.takenOn} zone={zone} /> ·{' '}
              {t(`choice.${check.lighting}`, { _: check.lighting })}
              {check.daysAfterSurgery !== null &&
                ` · ${t('case.days_after', { smart_count: check.daysAfterSurgery })}`}
            </span>
          </li>
        ))}
        {of.rotation && (
          <li>
            <Pill tone={turns[of.rotation.verdict]}>{t(`rotation.${of.rotation.verdict}`)}</Pill>{' '}
            {tellRotation(of.rotation)}
          </li>
        )}
      </ul>
    </Section>
  );
}
