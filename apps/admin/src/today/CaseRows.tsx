import { useTranslate } from 'react-admin';
import type { CaseSummary, VaultCheck } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { useFormat } from '../shared/format/use-format';
import { CaseName } from '../shared/parts/CaseName';
import { Pill } from '../shared/parts/Pill';
import { When } from '../shared/parts/When';
import { useTellVault } from '../cases/tell-after-surgery';
import { useWaiting } from '../cases/waiting';
import { Row } from './Row';

/** Where a case's row of today leads, and for whom. */
const acts = {
  toMeasure: { permission: 'case.measure', path: 'measure', label: 'today.act.measure' },
  toPlan: { permission: 'case.plan', path: 'plan', label: 'today.act.plan' },
  toSchedule: { permission: 'case.schedule', path: '?do=schedule', label: 'today.act.schedule' },
  inTheatre: { permission: 'case.implant', path: '?do=implant', label: 'today.act.implant' },
  visitsDue: { permission: 'case.measure', path: 'measure?kind=vault', label: 'today.act.visit' },
  toConsider: { permission: 'case.exchange', path: 'lenses', label: 'today.act.consider' },
  exchanges: { permission: 'case.read', path: '', label: 'today.act.open_case' },
} as const;

export function CaseRow({
  of,
  section,
  filled,
}: {
  of: CaseSummary;
  section: keyof typeof acts;
  filled: boolean;
}) {
  const t = useTranslate();
  const waiting = useWaiting(of);
  const act = acts[section];
  const may = useMay(act.permission);
  const to = act.path.startsWith('?') ? `/cases/${of.id}${act.path}` : `/cases/${of.id}/${act.path}`;
  return (
    <Row
      name={<CaseName of={of} />}
      detail={
        <>
          <span className="mono">{of.code}</span> · {of.clinic.name}
        </>
      }
      act={may ? { to, label: t(act.label) } : null}
      filled={filled}
    >
      {waiting}
      {of.theatreOn && (
        <span className="muted">
          {' '}
          {t('case.theatre')} <When date={of.theatreOn} zone={of.clinic.timeZone} />
        </span>
      )}
    </Row>
  );
}

export function VaultRow({ of, check, filled }: { of: CaseSummary; check: VaultCheck; filled: boolean }) {
  const t = useTranslate();
  const format = useFormat();
  const tellVault = useTellVault();
  const may = useMay('case.exchange');
  return (
    <Row
      name={<CaseName of={of} />}
      detail={<When date={check.takenOn} zone={of.clinic.timeZone} />}
      act={may ? { to: `/cases/${of.id}?do=exchange`, label: t('today.act.look_at_vault') } : null}
      filled={filled}
    >
      <Pill tone={check.level === 'stop' ? 'brick' : 'amber'}>
        {t(`vault.${check.band}`)} {format.um(check.vaultUm)}
      </Pill>{' '}
      <span className="muted">{tellVault(check)}</span>
    </Row>
  );
}
