import { useMutation } from '@tanstack/react-query';
import { useState, type RefObject } from 'react';
import { useDataProvider, useTranslate } from 'react-admin';
import type { CountRead } from '@lensferry/contracts';
import { CameraScan } from '../arrivals/CameraScan';
import { ScanField } from '../arrivals/ScanField';
import type { LensferryDataProvider } from '../providers/data-provider';
import { Failure } from '../shared/parts/Answer';
import '../arrivals/arrivals.css';

interface Props {
  id: string;
  field: RefObject<HTMLInputElement | null>;
  onRead: () => void;
}

const signs: Record<CountRead['verdict'], string> = {
  here: '✓',
  again: '=',
  missing: '?',
  misplaced: '→',
  unexpected: '!',
};

/** Where packs are read one after the other; the last one’s verdict large, and the field ready for the next. */
export function CountScan({ id, field, onRead }: Props) {
  const t = useTranslate();
  const data = useDataProvider<LensferryDataProvider>();
  const [camera, setCamera] = useState(false);
  const reading = useMutation<CountRead, Error, string>({
    mutationFn: (text) => data.take<CountRead>(`/stock-counts/${id}/readings`, { text }),
    onSettled: () => {
      field.current?.focus();
      onRead();
    },
  });
  const last = reading.data;
  return (
    <>
      <ScanField
        ref={field}
        onScan={(text) => reading.mutate(text)}
        onCamera={() => setCamera(!camera)}
        camera={camera}
      />
      {camera && <CameraScan key={reading.submittedAt} onFound={(text) => reading.mutate(text)} />}
      {reading.error && <Failure error={reading.error} />}
      {last && !reading.error && (
        <p className={`count__last count__last--${last.verdict}`} role="status" aria-live="assertive">
          <span aria-hidden="true">{signs[last.verdict]}</span> <span className="mono">{last.serial}</span>{' '}
          {t(`count.verdict.${last.verdict}`)}
        </p>
      )}
    </>
  );
}
