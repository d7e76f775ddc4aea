import { useTranslate } from 'react-admin';
import type { TransferState } from '@lensferry/domain';
import { eyeInCapitals } from '@lensferry/domain';
import type { LensTransfer } from '@lensferry/contracts';
import { LensText } from '../shared/parts/LensText';
import { Pill, type Tone } from '../shared/parts/Pill';
import { useDoing } from '../shared/parts/use-doing';
import { Moment, When } from '../shared/parts/When';
import { TransferDialog } from './TransferDialog';

const tones: Partial<Record<TransferState, Tone>> = {
  received: 'moss',
  refused: 'amber',
  lost: 'brick',
  withdrawn: 'plain',
  declined: 'plain',
  taken_back: 'plain',
};
const grave: readonly string[] = ['lose', 'refuse'];

/** Units between clinics: what each is, from where to where, how it stands, and what this end can do. */
export function TransferRows({ transfers }: { transfers: readonly LensTransfer[] }) {
  const [doing, open] = useDoing();
  const [wanted, id] = doing?.split('.') ?? [];
  const taken = transfers.find((one) => one.id === id);
  const step = taken?.steps.find((one) => one === wanted);
  return (
    <>
      <ul className="card rows">
        {transfers.map((transfer) => (
          <TransferItem key={transfer.id} of={transfer} onStep={(event) => open(`${event}.${transfer.id}`)} />
        ))}
      </ul>
      {taken && step && <TransferDialog of={taken} step={step} onClose={() => open(null)} />}
    </>
  );
}

function TransferItem({ of, onStep }: { of: LensTransfer; onStep: (step: string) => void }) {
  const t = useTranslate();
  const unit = of.lensId ?? of.arrivedLensId;
  return (
    <li className="card--padded form">
      <div>
        <p>
          {unit ? (
            <a className="mono strong" href={`/lenses/${unit}`}>
              {of.serial}
            </a>
          ) : (
            <span className="mono strong">{of.serial}</span>
          )}{' '}
          · <strong>{t(`eye.capitals.${eyeInCapitals[of.lens.eye]}`)}</strong>{' '}
          <LensText lens={of.lens} lengthMm={of.lens.lengthMm} /> · {of.maker.name},{' '}
          <span className="mono">{of.designCode}</span>
        </p>
        <p>
          {t('transfer.from_to', { from: of.from.name, to: of.to?.name ?? t('transfer.whoever') })}{' '}
          <Pill tone={tones[of.state] ?? 'sea'}>{t(`transfer.state.${of.state}`)}</Pill>{' '}
          <span className="muted">
            <Moment at={of.stateSince} />
          </span>
        </p>
        <p className="muted small">
          {t('lens.expires')} <When date={of.expiresOn} /> ·{' '}
          {t('transfer.made_under', { number: of.madeUnder })}
          {of.tracking && ` · ${of.tracking}`}
          {of.note && ` · ${of.note}`}
        </p>
        {of.order && (
          <p>
            <a href={`/orders/${of.order.id}`}>{t('transfer.for_order', { number: of.order.number })}</a>
          </p>
        )}
        {of.steps.includes('accept') && (
          <p className={of.fits.length > 0 ? 'strong' : 'muted'}>
            {of.fits.length > 0
              ? t('transfer.fits', { number: of.fits.map(({ number }) => number).join(', ') })
              : t('transfer.fits_nothing')}
          </p>
        )}
      </div>
      <div className="steps no-print">
        {of.steps
          .filter((step) => step !== 'accept' || of.fits.length > 0)
          .map((step, i) => (
            <button
              key={step}
              type="button"
              className={`button${i === 0 && !grave.includes(step) ? ' button--filled' : ''}${grave.includes(step) ? ' button--grave' : ''}`}
              onClick={() => onStep(step)}
            >
              {t(`transfer.step.${step}`)}
            </button>
          ))}
      </div>
    </li>
  );
}
