import { useTranslate } from 'react-admin';
import type { LensTransfer, StockCount, UnexpectedParcel } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { ReadOff } from '../arrivals/ReadOff';
import { LensText } from '../shared/parts/LensText';
import { Pill } from '../shared/parts/Pill';
import { Moment } from '../shared/parts/When';
import { Row } from './Row';

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
