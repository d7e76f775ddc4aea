import { useTranslate } from 'react-admin';
import { PlainStep, ToldMaker, type OrderDetail } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { TextField } from '../shared/forms/fields';
import { StepDialog } from '../shared/forms/StepDialog';
import { Moment } from '../shared/parts/When';
import { useDoing } from '../shared/parts/use-doing';

/** Whether the maker knows of a change or cancellation: told by whom, or why not and how to mend it. */
export function TellMaker({ order }: { order: OrderDetail }) {
  const t = useTranslate();
  const [doing, open] = useDoing();
  const may = useMay('maker.tell');
  const { telling, maker } = order;
  if (telling === null) return null;
  if (telling.state === 'told')
    return (
      <p className="note">
        {t(telling.by ? 'telling.told_by' : 'telling.told', { by: telling.by ?? '', maker: maker.name })}
        {telling.why && `: ${telling.why}`} (<Moment at={telling.at} zone={order.clinic.timeZone} />)
      </p>
    );
  const paper = `/api/orders/${order.id}/to-maker.pdf`;
  return (
    <div className="note note--amber form">
      <p>
        {t(`telling.${telling.state}`, { maker: maker.name })} {telling.why}
      </p>
      <p className="steps">
        <a className="button" href={paper} target="_blank" rel="noreferrer">
          {t('telling.document')}
        </a>
        {may && (
          <button type="button" className="button" onClick={() => open('told')}>
            {t('step.order.told')}
          </button>
        )}
        {may && maker.channel !== 'by_hand' && (
          <button type="button" className="button" onClick={() => open('tell-again')}>
            {t('step.order.tell-again')}
          </button>
        )}
      </p>
      {may && doing === 'told' && (
        <StepDialog<OrderDetail>
          title={t('step.order.told')}
          consequence={t('telling.told_consequence', { maker: maker.name })}
          schema={ToldMaker}
          path={`/orders/${order.id}/told`}
          defaults={{ version: order.version }}
          answers="orders"
          done="telling.kept"
          onClose={() => open(null)}
        >
          <TextField name="how" label={t('telling.how')} hint={t('telling.how_hint')} long autoFocus />
        </StepDialog>
      )}
      {may && doing === 'tell-again' && (
        <StepDialog<OrderDetail>
          title={t('step.order.tell-again')}
          consequence={t('telling.again_consequence', { maker: maker.name })}
          schema={PlainStep}
          path={`/orders/${order.id}/tell-again`}
          defaults={{ version: order.version }}
          answers="orders"
          done="telling.again"
          onClose={() => open(null)}
        />
      )}
    </div>
  );
}
