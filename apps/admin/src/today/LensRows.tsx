import { useTranslate } from 'react-admin';
import type { LensSummary, ReturnSummary } from '@lensferry/contracts';
import { CaseName } from '../shared/parts/CaseName';
import { Pill } from '../shared/parts/Pill';
import { When } from '../shared/parts/When';
import { WindowPill } from '../returns/WindowPill';
import { useTellExpiry } from '../shelf/tell-expiry';
import { Row } from './Row';

export function LensRow({
  lens,
  section,
  filled,
}: {
  lens: LensSummary;
  section: 'quarantined' | 'toReturn' | 'expiring';
  filled: boolean;
}) {
  const t = useTranslate();
  const tellExpiry = useTellExpiry();
  const act =
    lens.steps.length > 0 || section === 'expiring'
      ? { to: `/lenses/${lens.id}`, label: t(`today.act.${section}`) }
      : null;
  return (
    <Row
      name={
        <>
          {t('lens.one')} <span className="mono strong">{lens.serial}</span>
        </>
      }
      detail={lens.case ? <CaseName of={lens.case} /> : lens.clinic.name}
      act={act}
      filled={filled}
    >
      {section === 'quarantined' && (
        <>
          <Pill tone="brick">{t('lens.state.quarantined')}</Pill>{' '}
          <span className="muted">{lens.quarantineWhy}</span>
        </>
      )}
      {section === 'toReturn' && (
        <span className="muted">
          {t(`lens.state.${lens.state}`)} · {lens.maker.name}
          {lens.returnBy && (
            <>
              {' · '}
              {t('return.back_by')} <When date={lens.returnBy} />
            </>
          )}
        </span>
      )}
      {section === 'expiring' && (
        <>
          <Pill tone="amber">
            {t('lens.expires')} <When date={lens.expiresOn} />
          </Pill>{' '}
          <span className="muted">{tellExpiry(lens)}</span>
        </>
      )}
    </Row>
  );
}

export function ReturnRow({ of, filled }: { of: ReturnSummary; filled: boolean }) {
  const t = useTranslate();
  const step = of.steps.find((one) => one !== 'write-off');
  return (
    <Row
      name={
        <>
          {t('lens.one')} <span className="mono strong">{of.lens.serial}</span>
        </>
      }
      detail={of.case ? <CaseName of={of.case} /> : of.clinic.name}
      act={step ? { to: `/returns/${of.id}`, label: t(`step.return.${step}`) } : null}
      filled={filled}
    >
      <WindowPill of={of} />{' '}
      <span className="muted">
        {t(`return.state.${of.state}`)} · {of.maker.name}
      </span>{' '}
      {of.telling && of.telling.state !== 'told' && <Pill tone="amber">{t('return.untold')}</Pill>}
    </Row>
  );
}
