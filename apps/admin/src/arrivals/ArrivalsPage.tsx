import { useRef, useState } from 'react';
import { useTranslate } from 'react-admin';
import { Page } from '../shared/parts/Page';
import { Failure } from '../shared/parts/Answer';
import { CameraScan } from './CameraScan';
import { Comparison } from './Comparison';
import { ExpectedParcels } from './ExpectedParcels';
import { KeepParcelForm } from './KeepParcelForm';
import { LabelFields } from './LabelFields';
import { ReceiveForm } from './ReceiveForm';
import { ScanField } from './ScanField';
import { UnexpectedParcels } from './UnexpectedParcels';
import { useArrival } from './use-arrival';
import './arrivals.css';

/** The receiving desk: scan, compare with the order field by field, accept or quarantine; all of it by keyboard. */
export function ArrivalsPage() {
  const t = useTranslate();
  const arrival = useArrival();
  const [camera, setCamera] = useState(false);
  const [done, setDone] = useState<{
    number: string;
    caseId: string;
    name: string;
    accepted: boolean;
  } | null>(null);
  const scan = useRef<HTMLInputElement>(null);
  const { reading } = arrival;
  const next = () => {
    arrival.next();
    setDone(null);
    scan.current?.focus();
  };
  return (
    <Page title={t('place.arrivals')} lead={t('arrival.lead')}>
      <div className="arrivals">
        <div className="form">
          <ScanField
            ref={scan}
            onScan={(text) => {
              setDone(null);
              arrival.read(text);
            }}
            onCamera={() => setCamera(!camera)}
            camera={camera}
          />
          {camera && (
            <CameraScan
              onFound={(text) => {
                setCamera(false);
                arrival.read(text);
              }}
            />
          )}
          <LabelFields arrival={arrival} />
        </div>
        <div className="arrivals__answer">
          {reading.error && <Failure error={reading.error} />}
          {reading.data && !done && (
            <Comparison reading={reading.data} onOrder={(id) => arrival.read(arrival.text, id)} />
          )}
          {reading.data?.order && arrival.label && !done && (
            <ReceiveForm
              key={reading.data.order.id + reading.data.verdict}
              reading={reading.data}
              order={reading.data.order}
              label={arrival.label}
              onDone={(accepted) => {
                const { order } = reading.data;
                if (order)
                  setDone({
                    number: order.number,
                    caseId: order.case.id,
                    name: order.case.codeName,
                    accepted,
                  });
                arrival.next();
              }}
            />
          )}
          {done && (
            <div
              className={done.accepted ? 'verdict verdict--match' : 'verdict verdict--incomplete'}
              role="status"
            >
              <p className="verdict__word">{t(done.accepted ? 'arrival.accepted' : 'arrival.quarantined')}</p>
              <p>
                {t('arrival.done', { number: done.number })} <a href={`/cases/${done.caseId}`}>{done.name}</a>
              </p>
              <button type="button" className="button button--filled" onClick={next} autoFocus>
                {t('arrival.next')}
              </button>
            </div>
          )}
          {reading.data?.verdict === 'unknown' && arrival.label && !done && (
            <KeepParcelForm label={arrival.label} onDone={next} />
          )}
          {!reading.data && !done && !reading.error && (
            <>
              <UnexpectedParcels />
              <ExpectedParcels />
            </>
          )}
        </div>
      </div>
    </Page>
  );
}
