import { Suspense, useEffect, useRef, useState, type ReactNode } from 'react';
import { useTranslate } from 'react-admin';
import { useLocation } from 'react-router-dom';
import { useLiveUpdates } from '../providers/live-updates';
import { Brand } from '../shell/Brand';
import { HatchPattern } from '../shared/drawing/HatchPattern';
import { Loading } from '../shared/parts/Answer';
import { AccountMenu } from './AccountMenu';
import { CommandPalette } from './CommandPalette';
import { Menu } from './Menu';
import { Notices } from './Notices';
import { OfflineBar } from './OfflineBar';
import { useOwnLinks } from './own-links';
import { PageGuard } from './PageGuard';

/** The frame around every page; one that broke leaves the frame, a frame that broke leaves words. */
export function Layout({ children }: { children: ReactNode }) {
  const { pathname } = useLocation();
  return (
    <PageGuard at={pathname} alone>
      <Frame pathname={pathname}>
        <PageGuard at={pathname}>
          <Suspense fallback={<Loading />}>{children}</Suspense>
        </PageGuard>
      </Frame>
    </PageGuard>
  );
}

/** Our menu, the way to find things, and who is signed in. */
function Frame({ pathname, children }: { pathname: string; children: ReactNode }) {
  const t = useTranslate();
  const main = useRef<HTMLElement>(null);
  const first = useRef(true);
  const [open, setOpen] = useState(false);
  const [finding, setFinding] = useState(false);
  useLiveUpdates();
  useOwnLinks();
  useEffect(() => {
    setOpen(false);
    // After a move to another page a screen reader should begin at the page, not at the menu.
    if (!first.current && !main.current?.contains(document.activeElement)) main.current?.focus();
    first.current = false;
  }, [pathname]);
  useEffect(() => {
    const listen = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== 'k') return;
      event.preventDefault();
      setFinding(true);
    };
    window.addEventListener('keydown', listen);
    return () => window.removeEventListener('keydown', listen);
  }, []);
  return (
    <div className={open ? 'frame frame--open' : 'frame'}>
      <a className="skip button" href="#main">
        {t('frame.skip')}
      </a>
      <HatchPattern />
      <header className="frame__top">
        <a className="brand" href="/">
          <Brand />
        </a>
        <div className="steps">
          <button type="button" className="button button--text" onClick={() => setFinding(true)}>
            {t('frame.find')}
          </button>
          <button
            type="button"
            className="button button--text"
            aria-expanded={open}
            onClick={() => setOpen(!open)}
          >
            {t(open ? 'frame.close' : 'frame.menu')}
          </button>
        </div>
      </header>
      <header className="frame__side">
        <a className="brand" href="/">
          <Brand />
        </a>
        <button type="button" className="find" onClick={() => setFinding(true)}>
          {t('frame.find')} <kbd>Ctrl K</kbd>
        </button>
        <Menu onGo={() => setOpen(false)} />
        <div className="frame__foot">
          <AccountMenu />
        </div>
      </header>
      <main className="frame__main" id="main" ref={main} tabIndex={-1}>
        <OfflineBar />
        {children}
      </main>
      <Notices />
      {finding && <CommandPalette onClose={() => setFinding(false)} />}
    </div>
  );
}
