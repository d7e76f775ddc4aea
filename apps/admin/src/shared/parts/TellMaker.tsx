import { useTranslate } from 'react-admin';
import { PlainStep, ToldMaker, type Telling } from '@lensferry/contracts';
import { TextField } from '../forms/fields';
import { StepDialog } from '../forms/StepDialog';
import { useDoing } from './use-doing';
import { Moment } from './When';

interface Told {
  readonly id: string;
  readonly version: number;
  readonly telling: Telling | null;
  readonly maker: { readonly name: string; readonly channel: string };
  readonly clinic: { readonly timeZone: string };
}

interface Props {
  of: Told;
  /** What it is, as the API calls it. */
  what: 'orders' | 'returns';
  /** Where the document for the maker is. */
  paper: string;
  may: boolean;
}

/** Whether the maker knows of a change, a cancellation or a return: told by whom, or why not and how to mend it. */
export function TellMaker({ of, what, paper, may }: Props) {
  const t = useTranslate();
  const [doing, open] = useDoing();
  const { telling, maker } = of;
  if (telling === null) return null;
  if (telling.state === 'told')
    return (
      <p className="note">
        {t(telling.by ? 'telling.told_by' : 'telling.told', { by: telling.by ?? '', maker: maker.name })}
        {telling.why && `: ${telling.why}`} (<Moment at={telling.at} zone={of.clinic.timeZone} />)
      </p>
    );
  const shared = { answers: what, onClose: () => open(null) };
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
        <StepDialog
          {...shared}
          title={t('step.order.told')}
          consequence={t('telling.told_consequence', { maker: maker.name })}
          schema={ToldMaker}
          path={`/${what}/${of.id}/told`}
          defaults={{ version: of.version }}
          done="telling.kept"
        >
          <TextField name="how" label={t('telling.how')} hint={t('telling.how_hint')} long autoFocus />
        </StepDialog>
      )}
      {may && doing === 'tell-again' && (
        <StepDialog
          {...shared}
          title={t('step.order.tell-again')}
          consequence={t('telling.again_consequence', { maker: maker.name })}
          schema={PlainStep}
          path={`/${what}/${of.id}/tell-again`}
          defaults={{ version: of.version }}
          done="telling.again"
        />
      )}
    </div>
  );
}
