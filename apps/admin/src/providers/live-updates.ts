import { useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';

const QUIET_MS = 600;
const LISTEN_AGAIN_MS = 30_000;

/**
 * Reads everything on screen again when another person, the maker or the worker moved something. Without a
 * connection the screens stay as they are, and are read again when there is one: nobody told what moved meanwhile.
 * A tab listens while it is looked at: browsers allow a host six connections, and six tabs that kept one each would
 * leave none to work with.
 */
export function useLiveUpdates(): void {
  const queries = useQueryClient();
  useEffect(() => {
    let source: EventSource | undefined;
    let reading: ReturnType<typeof setTimeout> | undefined;
    let listening: ReturnType<typeof setTimeout> | undefined;
    // Whether something may have moved that nobody told.
    let missed = false;
    const readAgain = () => {
      reading ??= setTimeout(() => {
        reading = undefined;
        void queries.invalidateQueries();
      }, QUIET_MS);
    };
    const stop = () => {
      clearTimeout(reading);
      clearTimeout(listening);
      reading = undefined;
      source?.close();
    };
    const listen = () => {
      const stream = new EventSource('/api/events');
      source = stream;
      stream.addEventListener('moved', readAgain);
      stream.addEventListener('open', () => {
        if (missed) readAgain();
        missed = false;
      });
      // A browser takes a lost connection up again by itself, but not after a refusal, such as a proxy's.
      stream.addEventListener('error', () => {
        missed = true;
        if (stream.readyState === EventSource.CLOSED) listening = setTimeout(listen, LISTEN_AGAIN_MS);
      });
    };
    const follow = () => {
      stop();
      if (document.hidden) missed = true;
      else listen();
    };
    follow();
    document.addEventListener('visibilitychange', follow);
    return () => {
      document.removeEventListener('visibilitychange', follow);
      stop();
    };
  }, [queries]);
}
