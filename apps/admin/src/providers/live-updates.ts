import { useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';

const QUIET_MS = 600;
const LISTEN_AGAIN_MS = 30_000;

/**
 * Reads everything on screen again when another person, the maker or the worker moved something. Without a
 * connection the screens stay as they are, and are read again when there is one: nobody told what moved meanwhile.
 */
export function useLiveUpdates(): void {
  const queries = useQueryClient();
  useEffect(() => {
    let source: EventSource;
    let reading: ReturnType<typeof setTimeout> | undefined;
    let listening: ReturnType<typeof setTimeout> | undefined;
    let wasOpen = false;
    const readAgain = () => {
      reading ??= setTimeout(() => {
        reading = undefined;
        void queries.invalidateQueries();
      }, QUIET_MS);
    };
    const listen = () => {
      source = new EventSource('/api/events');
      source.addEventListener('moved', readAgain);
      source.addEventListener('open', () => {
        if (wasOpen) readAgain();
        wasOpen = true;
      });
      // A browser takes a lost connection up again by itself, but not after a refusal, such as a proxy's.
      source.addEventListener('error', () => {
        if (source.readyState === EventSource.CLOSED) listening = setTimeout(listen, LISTEN_AGAIN_MS);
      });
    };
    listen();
    return () => {
      clearTimeout(reading);
      clearTimeout(listening);
      source.close();
    };
  }, [queries]);
}
