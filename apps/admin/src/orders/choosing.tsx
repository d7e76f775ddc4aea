import { createContext, Suspense, useContext, useMemo, useState, type ReactNode } from 'react';
import { useTranslate } from 'react-admin';
import { awaitedFromMaker } from '@lensferry/domain';
import type { OrderSummary } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { later } from '../later';

/** Forms and their contracts are only for those who ask: a list is drawn without them. */
const AskMakersDialog = later(() => import('./AskMakersDialog'), 'AskMakersDialog');

interface Choosing {
  readonly chosen: ReadonlySet<string>;
  choose(ids: readonly string[], on: boolean): void;
}

const ChoosingContext = createContext<Choosing | null>(null);

const canBeAskedAfter = ({ state }: OrderSummary): boolean => awaitedFromMaker.includes(state);

/** Likely or surely late, and its maker not asked since it was last heard from. */
const isPressing = ({ late, forecast, inquiry }: OrderSummary): boolean =>
  inquiry === null && (late || (forecast?.inTime ?? 1) < 0.5);

/** Orders of which some can be chosen, with what can be done to them together; nothing to choose without the right. */
export function ChoosingOrders({
  orders,
  children,
}: {
  orders: readonly OrderSummary[];
  children: ReactNode;
}) {
  const may = useMay('maker.tell');
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const choosing = useMemo<Choosing>(
    () => ({
      chosen,
      choose: (ids, on) =>
        setChosen(on ? new Set([...chosen, ...ids]) : new Set([...chosen].filter((id) => !ids.includes(id)))),
    }),
    [chosen],
  );
  const askable = orders.filter(canBeAskedAfter);
  if (!may || askable.length === 0) return <>{children}</>;
  return (
    <ChoosingContext.Provider value={choosing}>
      <ChosenBar orders={askable} />
      {children}
    </ChoosingContext.Provider>
  );
}

/** The box by which an order is chosen; nothing where it can't be. */
export function ChooseOrder({ order }: { order: OrderSummary }) {
  const t = useTranslate();
  const choosing = useContext(ChoosingContext);
  if (choosing === null || !canBeAskedAfter(order)) return null;
  return (
    <input
      type="checkbox"
      className="choose"
      aria-label={t('asking.choose', { number: order.number })}
      checked={choosing.chosen.has(order.id)}
      onChange={({ target }) => choosing.choose([order.id], target.checked)}
    />
  );
}

function ChosenBar({ orders }: { orders: readonly OrderSummary[] }) {
  const t = useTranslate();
  const choosing = useContext(ChoosingContext);
  const [asking, setAsking] = useState(false);
  if (choosing === null) return null;
  const chosen = orders.filter(({ id }) => choosing.chosen.has(id));
  const pressing = orders.filter(isPressing);
  const ids = (of: readonly OrderSummary[]) => of.map(({ id }) => id);
  return (
    <div className="chosen" role="group" aria-label={t('asking.chosen')}>
      <span aria-live="polite">{t('asking.chosen_count', { smart_count: chosen.length })}</span>
      <button
        type="button"
        className="button button--filled"
        disabled={chosen.length === 0}
        onClick={() => setAsking(true)}
        onPointerEnter={() => void AskMakersDialog.bring()}
        onFocus={() => void AskMakersDialog.bring()}
      >
        {t('asking.ask')}
      </button>
      {pressing.length > 0 && (
        <button type="button" className="button" onClick={() => choosing.choose(ids(pressing), true)}>
          {t('asking.choose_late', { smart_count: pressing.length })}
        </button>
      )}
      {chosen.length > 0 && (
        <button
          type="button"
          className="button button--text"
          onClick={() => choosing.choose(ids(chosen), false)}
        >
          {t('asking.choose_none')}
        </button>
      )}
      {asking && (
        <Suspense fallback={null}>
          <AskMakersDialog
            orders={chosen}
            onClose={() => setAsking(false)}
            onDone={() => choosing.choose(ids(chosen), false)}
          />
        </Suspense>
      )}
    </div>
  );
}
