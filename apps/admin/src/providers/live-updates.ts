import { useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';

const QUIET_MS = 600;

/**
 * Reads everything on screen again when another person, the maker or the worker moved something. Without a
 * connection the screens stay as they are and refresh when they are looked at again.
 */
export function useLiveUpdates(): void {
  const queries = useQueryClient();
  useEffect(() => {
    if (typeof EventSource === 'undefined') return;
    let waiting: ReturnType<typeof setTimeout> | null = null;
    const source = new EventSource('/api/events');
    source.addEventListener('moved', () => {
      if (waiting !== null) return;
      waiting = setTimeout(() => {
        waiting = null;
        void queries.invalidateQueries();
      }, QUIET_MS);
    });
    return () => {
      if (waiting !== null) clearTimeout(waiting);
      source.close();
    };
  }, [queries]);
}
