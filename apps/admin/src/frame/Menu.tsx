import { useTranslate } from 'react-admin';
import { useLocation } from 'react-router-dom';
import type { Today } from '@lensferry/contracts';
import { may } from '@lensferry/domain';
import { bringPage } from '../pages';
import { useRole } from '../providers/session';
import { useReadAfterAll } from '../providers/use-read';
import { countsOf } from '../today/counts';
import { places } from './places';

const isAt = (place: string, pathname: string): boolean =>
  pathname === place || (place !== '/' && pathname.startsWith(`${place}/`));

/** Our menu; the numbers say how much waits behind a place. `onGo`: also to the place where one is already. */
export function Menu({ onGo }: { onGo: () => void }) {
  const t = useTranslate();
  const role = useRole();
  const { pathname } = useLocation();
  const today = useReadAfterAll<Today>('/today');
  const counts = today.data ? countsOf(today.data, role) : {};
  return (
    <nav className="menu" aria-label={t('frame.places')}>
      {places
        .filter(({ permission }) => permission === undefined || may(role, permission))
        .map(({ name, path }) => {
          const count = counts[name];
          return (
            <a
              key={name}
              href={path}
              aria-current={isAt(path, pathname) ? 'page' : undefined}
              className="menu__item"
              onClick={onGo}
              // Whoever points at a place is about to go there.
              onPointerEnter={() => void bringPage(path)}
              onFocus={() => void bringPage(path)}
            >
              <span>{t(`place.${name}`)}</span>
              {count ? (
                <span className="menu__count">
                  {count}
                  <span className="unseen"> {t('frame.waiting')}</span>
                </span>
              ) : null}
            </a>
          );
        })}
    </nav>
  );
}
