import { useSearchParams } from 'react-router-dom';

/**
 * The step that the address opens, `?do=cancel`, and how to put it away. What was opened meanwhile stays open: a step
 * that is done late puts away only itself.
 */
export function useDoing(): [string | null, (name: string | null) => void] {
  const [search, setSearch] = useSearchParams();
  const doing = search.get('do');
  const open = (name: string | null) => {
    // The address itself: a step that is done late still holds the one from when it was opened.
    const now = new URLSearchParams(window.location.search);
    if (name === null && now.get('do') !== doing) return;
    if (name === null) now.delete('do');
    else now.set('do', name);
    setSearch(now, { replace: true });
  };
  return [doing, open];
}
