import { useSearchParams } from 'react-router-dom';

/** The step that the address opens, `?do=cancel`, and how to put it away. */
export function useDoing(): [string | null, (name: string | null) => void] {
  const [search, setSearch] = useSearchParams();
  const open = (name: string | null) =>
    setSearch(
      (before) => {
        if (name === null) before.delete('do');
        else before.set('do', name);
        return before;
      },
      { replace: true },
    );
  return [search.get('do'), open];
}
