import { useTranslate } from 'react-admin';
import { awaitedFromMaker } from '@lensferry/domain';
import type { OrderDetail } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { Moment } from '../shared/parts/When';
import { useDoing } from '../shared/parts/use-doing';
import { AskMakersDialog } from './AskMakersDialog';

/** The question after this order that its maker has not answered, and the button to ask (once more). */
export function AskedMaker({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  const [doing, open] = useDoing();
  const may = useMay('maker.tell');
  const { inquiry, maker } = order;
  if (!awaitedFromMaker.includes(order.state)) return null;
  return (
    <>
      {inquiry && (
        <p className={inquiry.told === false ? 'note note--amber' : 'note'}>
          {t(inquiry.told === false ? 'asking.failed' : 'asking.open', { by: inquiry.by, maker: maker.name })}{' '}
          <Moment at={inquiry.at} zone={order.clinic.timeZone} /> (
          <span className="mono">{inquiry.number}</span>)
          {(inquiry.how ?? (inquiry.told === false ? inquiry.outcome : null)) &&
            `: ${inquiry.how ?? inquiry.outcome}`}
        </p>
      )}
      {may && (
        <p className="steps">
          <button type="button" className="button" onClick={() => open('ask')}>
            {t(inquiry ? 'asking.ask_again' : 'asking.ask_one')}
          </button>
        </p>
      )}
      {may && doing === 'ask' && <AskMakersDialog orders={[order]} onClose={() => open(null)} />}
    </>
  );
}
