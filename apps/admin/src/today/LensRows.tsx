import { useTranslate } from 'react-admin';
import type {
  LensSummary,
  LensTransfer,
  ReturnSummary,
  StockCount,
  UnexpectedParcel,
} from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { ReadOff } from '../arrivals/ReadOff';
import { CaseName } from '../shared/parts/CaseName';
import { Pill } from '../shared/parts/Pill';
import { Moment, When } from '../shared/parts/When';
import { WindowPill } from '../returns/WindowPill';
import { LensText } from '../shared/parts/LensText';
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
          <span className="muted">{lens.expiryWarning}</span>
        </>
      )}
    </Row>
  );
}

export function ParcelRow({ parcel, filled }: { parcel: UnexpectedParcel; filled: boolean }) {
  const t = useTranslate();
  const mayPlace = useMay('arrival.receive');
  return (
    <Row
      name={<ReadOff parcel={parcel} />}
      detail={`${parcel.location}, ${parcel.clinic.name}`}
      act={mayPlace ? { to: '/arrivals', label: t('today.act.place') } : null}
      filled={filled}
    >
      <span className="muted">
        <Moment at={parcel.receivedAt} /> · {parcel.receivedByName} · {parcel.note}
      </span>
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

export function TransferRow({ of, filled }: { of: LensTransfer; filled: boolean }) {
  const t = useTranslate();
  const step = of.steps.find((one) => !['withdraw', 'decline', 'lose'].includes(one));
  return (
    <Row
      name={
        <>
          {t('lens.one')} <span className="mono strong">{of.serial}</span>
        </>
      }
      detail={t('transfer.from_to', { from: of.from.name, to: of.to?.name ?? t('transfer.whoever') })}
      act={step ? { to: `/lenses/between?do=${step}.${of.id}`, label: t(`transfer.step.${step}`) } : null}
      filled={filled}
    >
      <Pill tone={of.state === 'refused' ? 'amber' : 'sea'}>{t(`transfer.state.${of.state}`)}</Pill>{' '}
      <span className="muted">
        <LensText lens={of.lens} lengthMm={of.lens.lengthMm} />
        {of.fits[0] && ` · ${t('transfer.fits', { number: of.fits[0].number })}`}
      </span>
    </Row>
  );
}

export function CountRow({ of, filled }: { of: StockCount; filled: boolean }) {
  const t = useTranslate();
  const may = useMay('lens.count');
  return (
    <Row
      name={of.location}
      detail={of.clinic.name}
      act={may ? { to: `/lenses/counts/${of.id}`, label: t('today.act.go_on') } : null}
      filled={filled}
    >
      <span className="muted">
        <Moment at={of.openedAt} /> · {of.openedBy} ·{' '}
        {t('count.found_of', { found: of.found, expected: of.expected })}
      </span>
    </Row>
  );
}
