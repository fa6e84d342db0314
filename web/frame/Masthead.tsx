import { useQuery } from '@tanstack/react-query';
import { Link, useLocation } from 'wouter';
import { roundQuestion } from '../api/questions.ts';
import { clockTime, offsetText, zoneCity } from '../notation/time.ts';
import { words } from '../strings/frame.ts';
import { Brand } from './Brand.tsx';
import { CopyLink } from './CopyLink.tsx';
import { useNow } from './clock.ts';
import { Liveness } from './Liveness.tsx';
import { Person } from './Person.tsx';
import { isWithin, PAGES } from './pages.ts';
import { useSession, useUnit, useZone } from './site.ts';

function Pages() {
  const [path] = useLocation();
  const { data: round } = useQuery(roundQuestion);
  const open = round?.areas.flatMap((area) => area.chambers).reduce((sum, line) => sum + line.openAlerts, 0) ?? 0;
  return (
    <nav aria-label={words.pages}>
      {PAGES.map(({ href, name }) => (
        <Link key={href} href={href} aria-current={isWithin(path, href) ? 'page' : undefined}>
          {words.page[name]}
          {name === 'alerts' && open > 0 ? `\u00a0${open}` : ''}
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
          {site.example ? <span className="exa">{words.example}</span> : null}
          <Liveness />
          <span className="o">{unit}</span>
          <span className="o">
            <Clock />
          </span>
          <CopyLink keyed className="quiet o" />
          <Person />
        </div>
      </div>
    </header>
  );
}
