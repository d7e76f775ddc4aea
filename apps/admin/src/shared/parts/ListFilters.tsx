import { useTranslate } from 'react-admin';
import { SearchField } from './SearchField';
import { useListFilter } from './use-list-filter';

interface Named {
  value: string;
  label: string;
}

interface Props {
  search?: string;
  /** States as chips, any number at a time. */
  states?: readonly Named[];
  /** Ready-made views as chips, one at a time, each a list of states; then single states are in a menu. */
  views?: readonly Named[];
  sorts?: readonly Sort[];
  /** What the orders are called here, where that is not what they are called elsewhere. */
  sortLabels?: Partial<Record<Sort, string>>;
}

type Sort = 'recent' | 'code' | 'due';

/** Search, states and the order; all of it stays in the address, so a view can be sent to somebody. */
export function ListFilters({ search, states = [], views, sorts = [], sortLabels }: Props) {
  const t = useTranslate();
  const { values, show: showFilter, sort, sortBy } = useListFilter();
  const state = String(values['state'] ?? '');
  const chosen = state.split(',').filter(Boolean);
  const show = (wanted: string) => showFilter({ ...values, state: wanted || undefined });
  const toggle = (value: string) =>
    show((chosen.includes(value) ? chosen.filter((one) => one !== value) : [...chosen, value]).join(','));
  const chips = views ? [...views, { value: '', label: t('list.all') }] : states;
  const pressed = (value: string) => (views ? state === value : chosen.includes(value));
  return (
    <div className="filters no-print" role="search">
      {search && <SearchField label={search} />}
      {sorts.length > 0 && (
        <Choice
          label={t('list.order')}
          value={sort}
          choices={sorts.map((value) => ({ value, label: sortLabels?.[value] ?? t(`list.sort.${value}`) }))}
          onChange={sortBy}
        />
      )}
      {views && (
        <Choice
          label={t('list.state')}
          value={states.some(({ value }) => value === state) ? state : ''}
          choices={[{ value: '', label: t('list.any_state') }, ...states]}
          onChange={show}
        />
      )}
      {chips.map(({ value, label }) => (
        <button
          key={value}
          type="button"
          className="chip"
          aria-pressed={pressed(value)}
          onClick={() => (views ? show(value) : toggle(value))}
        >
          {label}
        </button>
      ))}
      {chosen.length > 0 && !views && (
        <button type="button" className="button button--text" onClick={() => show('')}>
          {t('list.clear')}
        </button>
      )}
    </div>
  );
}

function Choice(props: {
  label: string;
  value: string;
  choices: readonly Named[];
  onChange: (value: string) => void;
}) {
  return (
    <span className="field__box">
      <select
        className="field__input"
        aria-label={props.label}
        value={props.value}
        onChange={(event) => props.onChange(event.target.value)}
      >
        {props.choices.map(({ value, label }) => (
          <option key={value} value={value}>
            {label}
          </option>
        ))}
      </select>
    </span>
  );
}
