import { useTranslate } from 'react-admin';
import { NavLink } from 'react-router-dom';
import type { Today } from '@lensferry/contracts';
import { may } from '@lensferry/domain';
import { bringPage } from '../pages';
import { useRole } from '../providers/session';
import { useReadAfterAll } from '../providers/use-read';
import { countsOf } from '../today/counts';
import { places } from './places';

/** Our menu; the numbers say how much waits behind a place. `onGo`: also to the place where one is already. */
export function Menu({ onGo }: { onGo: () => void }) {
  const t = useTranslate();
  const role = useRole();
  const today = useReadAfterAll<Today>('/today');
  const counts = today.data ? countsOf(today.data, role) : {};
  return (
    <nav className="menu" aria-label={t('frame.places')}>
      {places
        .filter(({ permission }) => permission === undefined || may(role, permission))
        .map(({ name, path }) => {
          const count = counts[name];
          return (
            <NavLink
              key={name}
              to={path}
              end={path === '/'}
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
            </NavLink>
          );
        })}
    </nav>
  );
}
