import { useEffect } from 'react';
import { useLocation, useNavigate } from 'react-router-dom';

/** The link to one of our own pages that a click is on; null where the browser should do what it always does. */
function ownLinkOf(event: MouseEvent): HTMLAnchorElement | null {
  if (event.defaultPrevented || event.button !== 0) return null;
  if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return null;
  const link = (event.target as Element).closest<HTMLAnchorElement>('a[href]');
  if (!link || link.target || link.hasAttribute('download') || link.origin !== location.origin) return null;
  const leadsWithinPage = link.getAttribute('href')?.startsWith('#');
  return leadsWithinPage || link.pathname.startsWith('/api/') ? null : link;
}

/**
 * Links are plain `<a href>`: one listener follows those of our own pages without loading everything again. A
 * component of its own for each of the hundreds in a list takes longer to draw than the row that it stands in.
 * `data-replace` on a link: it takes the place of where one is, instead of coming after it.
 */
export function useOwnLinks(): void {
  const navigate = useNavigate();
  const { pathname, search, hash } = useLocation();
  useEffect(() => {
    const follow = (event: MouseEvent) => {
      const link = ownLinkOf(event);
      if (link === null) return;
      event.preventDefault();
      const path = link.pathname + link.search + link.hash;
      const isHere = path === pathname + search + hash;
      navigate(path, { replace: isHere || link.dataset['replace'] !== undefined });
    };
    document.addEventListener('click', follow);
    return () => document.removeEventListener('click', follow);
  }, [navigate, pathname, search, hash]);
}
