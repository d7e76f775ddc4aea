import { useMutation } from '@tanstack/react-query';
import { useState } from 'react';
import { useDataProvider } from 'react-admin';
import { useSearchParams } from 'react-router-dom';
import type { ArrivalReading, LabelEntry } from '@lensferry/contracts';
import type { LensferryDataProvider } from '../providers/data-provider';
import { labelOf, type TypedLabel } from './label';

/** One parcel at the desk: what was scanned, what was typed, and what the server makes of it. */
export function useArrival() {
  const data = useDataProvider<LensferryDataProvider>();
  const [search, setSearch] = useSearchParams();
  const [text, setText] = useState('');
  const [typed, setTyped] = useState<TypedLabel>({});
  const [orderId, setOrderId] = useState(search.get('order') ?? undefined);
  const [wrong, setWrong] = useState<string[]>([]);
  const reading = useMutation<ArrivalReading, Error, { label: LabelEntry; orderId?: string | undefined }>({
    mutationFn: (body) =>
      data.take<ArrivalReading>('/arrivals/read', body.orderId === undefined ? { label: body.label } : body),
  });
  const read = (scanned = text, chosen = orderId) => {
    const entry = labelOf(scanned, typed);
    setWrong(entry.wrong);
    setText(scanned);
    setOrderId(chosen);
    if (entry.label) reading.mutate({ label: entry.label, orderId: chosen });
  };
  const next = () => {
    setText('');
    setTyped({});
    setOrderId(undefined);
    setWrong([]);
    setSearch({}, { replace: true });
    reading.reset();
  };
  const label = labelOf(text, typed).label;
  return { text, typed, setTyped, orderId, wrong, reading, read, next, label };
}
export type Arrival = ReturnType<typeof useArrival>;
