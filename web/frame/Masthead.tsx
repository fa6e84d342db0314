import { useQuery } from '@tanstack/react-query';
import { Link, useLocation } from 'wouter';
import { roundQuestion } from '../api/questions.ts';
import { clockTime, offsetText, zoneCity } from '../notation/time.ts';
import { Brand } from './Brand.tsx';
import { useNow } from './clock.ts';
import { Liveness } from './Liveness.tsx';
import { Person } from './Person.tsx';
import { useSession, useUnit, useZone } from './site.ts';

export const PAGES = [
  { href: '/', name: 'Round', key: 'r' },
  { href: '/alerts', name: 'Alerts', key: 'a' },
  { href: '/compare', name: 'Compare', key: 'c' },
  { href: '/measurement', name: 'Measurement', key: 'm' },
  { href: '/fleet', name: 'Fleet', key: 'f' },
  { href: '/about', name: 'About', key: 'i' },
] as const;

/** A chamber is reached from the round and belongs to it; how well alerts do and why they are raised, to the alerts. */
const WITHIN: Readonly<Record<string, readonly string[]>> = {
  '/': ['/chambers', '/rounds'],
  '/alerts': ['/alerts', '/performance', '/rationalisation'],
};
const isWithin = (path: string, page: string): boolean =>
  path === page || (WITHIN[page] ?? [page]).some((start) => path.startsWith(start));

/** Pages that are reached from another page of the masthead, with their keys. */
export const INNER_PAGES = [
  { href: '/performance', key: 'p' },
  { href: '/rationalisation', key: 'w' },
] as const;

function Pages() {
  const [path] = useLocation();
  const { data: round } = useQuery(roundQuestion);
  const open = round?.areas.flatMap((area) => area.chambers).reduce((sum, line) => sum + line.openAlerts, 0) ?? 0;
  return (
    <nav aria-label="Pages">
      {PAGES.map(({ href, name }) => (
        <Link key={href} href={href} aria-current={isWithin(path, href) ? 'page' : undefined}>
          {name}
          {name === 'Alerts' && open > 0 ? `\u00a0${open}` : ''}
        </Link>
      ))}
    </nav>
  );
}

function Clock() {
  const now = useNow(5);
  const zone = useZone();
  return (
    <span>
      <b>{clockTime(now, zone)}</b> {zoneCity(zone)} {offsetText(now, zone)}
    </span>
  );
}

export function Masthead() {
  const { site } = useSession();
  const unit = useUnit();
  return (
    <header className="blk mast">
      <div className="m">
        <Brand />
        <span className="w">Ullage</span>
      </div>
      <div className="c">
        <span className="site">{site.name}</span>
        <Pages />
        <div className="r">
          {site.example ? <span className="exa">Example data</span> : null}
          <Liveness />
          <span className="o">{unit}</span>
          <span className="o">
            <Clock />
          </span>
          <Person />
        </div>
      </div>
    </header>
  );
}
