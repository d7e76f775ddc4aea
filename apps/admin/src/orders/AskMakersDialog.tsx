import { useState } from 'react';
import { useTranslate } from 'react-admin';
import { AskMakers, type AskedMakers, type OrderSummary } from '@lensferry/contracts';
import { ChoiceRow } from '../shared/forms/ChoiceRow';
import { TextField } from '../shared/forms/fields';
import { StepDialog } from '../shared/forms/StepDialog';

interface Props {
  orders: readonly OrderSummary[];
  onClose: () => void;
  onDone?: () => void;
}

/** Asks the makers of the chosen orders when the lenses will come, or keeps how somebody has asked already. */
export function AskMakersDialog({ orders, onClose, onDone }: Props) {
  const t = useTranslate();
  const byMaker = [...new Set(orders.map(({ maker }) => maker.id))].map((id) =>
    orders.filter(({ maker }) => maker.id === id),
  );
  const silent = orders.some(({ maker }) => maker.channel === 'by_hand');
  const [way, setWay] = useState<'message' | 'person'>(silent ? 'person' : 'message');
  return (
    <StepDialog<AskedMakers>
      key={way}
      title={t(way === 'message' ? 'asking.send' : 'asking.keep')}
      consequence={t('asking.consequence')}
      schema={AskMakers}
      path="/orders/inquiries"
      defaults={{
        orders: orders.map(({ id, version }) => ({ id, version })),
        ...(way === 'person' && { how: '' }),
      }}
      done={way === 'message' ? 'asking.sent' : 'asking.kept'}
      onClose={onClose}
      {...(onDone && { onDone })}
    >
      <ul className="asking">
        {byMaker.map((together) => (
          <li key={together[0]?.maker.id}>
            <strong>{together[0]?.maker.name}</strong>{' '}
            <span className="muted">{t(`asking.by.${together[0]?.maker.channel ?? 'by_hand'}`)}</span>
            <p className="mono small">{together.map(({ number }) => number).join(', ')}</p>
          </li>
        ))}
      </ul>
      {silent ? (
        <p className="note">{t('asking.some_by_hand')}</p>
      ) : (
        <ChoiceRow
          legend={t('asking.way')}
          name="way"
          value={way}
          onChange={(value) => setWay(value === 'person' ? 'person' : 'message')}
          choices={(['message', 'person'] as const).map((value) => ({
            value,
            label: t(`asking.ways.${value}`),
          }))}
        />
      )}
      {way === 'person' && (
        <TextField name="how" label={t('asking.how')} hint={t('telling.how_hint')} long autoFocus />
      )}
    </StepDialog>
  );
}
