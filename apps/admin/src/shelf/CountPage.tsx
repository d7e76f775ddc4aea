import { useQueryClient } from '@tanstack/react-query';
import { useRef, useState } from 'react';
import { useTranslate } from 'react-admin';
import { useParams } from 'react-router-dom';
import { ReasonedStep, type StockCountDetail } from '@lensferry/contracts';
import { useMay } from '../providers/session';
import { useRead } from '../providers/use-read';
import { TextField } from '../shared/forms/fields';
import { StepDialog } from '../shared/forms/StepDialog';
import { Answer } from '../shared/parts/Answer';
import { Page } from '../shared/parts/Page';
import { Pill } from '../shared/parts/Pill';
import { useDoing } from '../shared/parts/use-doing';
import { CloseCountForm } from './CloseCountForm';
import { CountFindings } from './CountFindings';
import { CountScan } from './CountScan';
import './count.css';

/** One count: read pack after pack, see what is missing or doesn't belong here, then explain each and close. */
export function CountPage() {
  const t = useTranslate();
  const { id = '' } = useParams();
  const query = useRead<StockCountDetail>(`/stock-counts/${id}`);
  const place = query.data && `${query.data.location}, ${query.data.clinic.name}`;
  return (
    <Page title={place ? t('count.of', { place }) : t('count.one')} lead={t('count.page_lead')}>
      <Answer query={query}>{(count) => <Count count={count} />}</Answer>
    </Page>
  );
}

function Count({ count }: { count: StockCountDetail }) {
  const t = useTranslate();
  const may = useMay('lens.count');
  const queries = useQueryClient();
  const [doing, open] = useDoing();
  const [closing, setClosing] = useState(false);
  const scan = useRef<HTMLInputElement>(null);
  const running = count.state === 'open';
  const again = () => void queries.invalidateQueries();
  return (
    <div className="form">
      <p>
        <Pill tone={running ? 'amber' : 'plain'}>{t(`count.state.${count.state}`)}</Pill> {count.openedBy}
      </p>
      <p className="count__sum" role="status">
        <strong>{count.found}</strong> {t('count.of_expected', { expected: count.expected })}
      </p>
      <div className="count__bar" aria-hidden="true">
        <span style={{ width: `${(100 * count.found) / Math.max(1, count.expected)}%` }} />
      </div>
      {running && may && !closing && <CountScan id={count.id} field={scan} onRead={again} />}
      {closing && running ? (
        <CloseCountForm
          count={count}
          onCancel={() => setClosing(false)}
          onDone={() => {
            setClosing(false);
            again();
          }}
        />
      ) : (
        <CountFindings findings={count.findings} running={running} />
      )}
      {running && may && !closing && (
        <div className="steps no-print">
          <button type="button" className="button" onClick={() => setClosing(true)}>
            {t('count.close')}
          </button>
          <button type="button" className="button button--text" onClick={() => open('give-up')}>
            {t('count.give_up')}
          </button>
        </div>
      )}
      {doing === 'give-up' && (
        <StepDialog<StockCountDetail>
          title={t('count.give_up')}
          consequence={t('count.give_up_consequence')}
          schema={ReasonedStep}
          path={`/stock-counts/${count.id}/give-up`}
          defaults={{ version: count.version, why: '' }}
          done="count.given_up"
          grave
          onClose={() => open(null)}
        >
          <TextField name="why" label={t('common.why')} long autoFocus />
        </StepDialog>
      )}
    </div>
  );
}
