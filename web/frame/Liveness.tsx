import { useQuery } from '@tanstack/react-query';
import type { Round } from '../../shared/contract/round.ts';
import { roundQuestion } from '../api/questions.ts';
import { duration } from '../notation/age.ts';
import { clockTimeSeconds } from '../notation/time.ts';
import { nowMs, useNow } from './clock.ts';
import { useLine } from './live.tsx';
import { useZone } from './site.ts';

/** The newest scan of the whole fleet: the age of everything that is drawn. */
export function newestScan(round: Round | undefined): string | null {
  let newest: string | null = null;
  for (const area of round?.areas ?? []) {
    for (const { lastScanAt } of area.chambers) {
      if (lastScanAt !== null && (newest === null || Date.parse(lastScanAt) > Date.parse(newest))) newest = lastScanAt;
    }
  }
  return newest;
}

/** In the masthead: live or not, and how old the newest scan is. */
export function Liveness() {
  const line = useLine();
  const now = useNow();
  const { data: round } = useQuery(roundQuestion);
  const newest = newestScan(round);
  const age = newest === null ? null : duration((now - Date.parse(newest)) / 1000);
  if (line.status === 'cut-off') {
    return (
      <span className="liveness cut">
        <b>cut off</b>
        {age === null ? '' : `, ${age} old`}
      </span>
    );
  }
  if (age === null) return <span className="liveness">{line.status === 'live' ? 'no scans yet' : 'connecting'}</span>;
  return (
    <span className="liveness">
      <i className="pulse" />
      {line.status === 'live' ? 'live' : 'connecting'}, <b>{age}</b>
      <span className="o"> ago</span>
    </span>
  );
}

/** Under the masthead while the line is down, and for a moment after it is back. */
export function LineBar() {
  const line = useLine();
  const now = useNow();
  const zone = useZone();
  if (line.status === 'cut-off' && line.cutSince !== null) {
    const skew = nowMs() - Date.now();
    const wait = Math.max(0, Math.ceil(((line.nextTryAt ?? 0) - (now - skew)) / 1000));
    return (
      <div className="bar cut" role="status">
        <span>
          <b>Cut off for {duration((now - skew - line.cutSince) / 1000)}.</b> What you see is from{' '}
          {clockTimeSeconds(line.cutSince + skew, zone)} and is getting older.{' '}
          {wait > 0 ? `Trying again in ${duration(wait)}.` : 'Trying again.'}
        </span>
        <button type="button" onClick={line.tryNow}>
          Try now
        </button>
      </div>
    );
  }
  if (line.caughtUp === null) return null;
  const { changes } = line.caughtUp;
  return (
    <div className="bar" role="status">
      <b>Caught up.</b>
      <span>
        {changes === 0
          ? 'Nothing changed while you were cut off.'
          : `${changes} ${changes === 1 ? 'chamber says' : 'chambers say'} something else than before you were cut off.`}
      </span>
    </div>
  );
}
