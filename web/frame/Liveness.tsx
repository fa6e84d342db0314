import { useQuery } from '@tanstack/react-query';
import { type ReactNode, useEffect } from 'react';
import type { Round } from '../../shared/contract/round.ts';
import { roundQuestion } from '../api/questions.ts';
import { duration, isOld } from '../notation/age.ts';
import { clockTimeSeconds } from '../notation/time.ts';
import { words } from '../strings/frame.ts';
import { Rich } from '../strings/Rich.tsx';
import { announce } from './announce.ts';
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

/** The shortest time between scans in the fleet: how often something should be heard; null when it is not known. */
export function shortestPeriod(round: Round | undefined): number | null {
  const periods = (round?.areas ?? []).flatMap(({ chambers }) =>
    chambers.flatMap(({ scanPeriodSeconds }) => (scanPeriodSeconds === null ? [] : [scanPeriodSeconds])),
  );
  return periods.length === 0 ? null : Math.min(...periods);
}

/** A fleet that scans every second may still pause for a while. */
const LEAST_PERIOD_SECONDS = 20;

interface Freshness {
  /** The round has not come: whether there are scans is not known. */
  readonly unknown: boolean;
  /** Of the newest scan; null: none has come yet. */
  readonly ageSeconds: number | null;
  /** Nothing has come for three periods from any chamber, although the line is up: no page shows the present. */
  readonly stale: boolean;
}

function useFreshness(): Freshness {
  const now = useNow();
  const { data: round } = useQuery(roundQuestion);
  const newest = newestScan(round);
  if (newest === null) return { unknown: round === undefined, ageSeconds: null, stale: false };
  const ageSeconds = Math.max(0, (now - Date.parse(newest)) / 1000);
  const period = shortestPeriod(round);
  return { unknown: false, ageSeconds, stale: isOld(ageSeconds, period && Math.max(LEAST_PERIOD_SECONDS, period)) };
}

const bold = (inner: ReactNode) => <b>{inner}</b>;
const wideOnly = (inner: ReactNode) => <span className="o">{inner}</span>;

/** In the masthead: live or not, and how old the newest scan is. */
export function Liveness() {
  const { status } = useLine();
  const { unknown, ageSeconds, stale } = useFreshness();
  const age = ageSeconds === null ? null : duration(ageSeconds);
  if (status === 'cut-off' || stale) {
    const cut = age === null ? words.cutOff : words.cutOffAge(age);
    return (
      <span className="liveness cut">
        <Rich text={status === 'cut-off' ? cut : words.staleAge(age ?? '')} parts={{ b: bold }} />
      </span>
    );
  }
  if (age === null) {
    const up = unknown ? words.ageUnknown : words.noScansYet;
    return <span className="liveness">{status === 'live' ? up : words.connecting}</span>;
  }
  return (
    <span className="liveness">
      <i className="pulse" />
      <Rich
        text={status === 'live' ? words.liveAge(age) : words.connectingAge(age)}
        parts={{ b: bold, ago: wideOnly }}
      />
    </span>
  );
}

/** Under the masthead while the line is down or nothing comes through it, and for a moment after it is back. */
export function LineBar() {
  const line = useLine();
  const freshness = useFreshness();
  if (line.status === 'cut-off' && line.cutSince !== null) return <CutOff cutSince={line.cutSince} />;
  if (line.caughtUp !== null) {
    const { changes } = line.caughtUp;
    return (
      <div className="bar" role="status">
        <b>{words.caughtUp}</b>
        <span>{changes === 0 ? words.nothingChanged : words.changed(changes)}</span>
      </div>
    );
  }
  return freshness.stale && freshness.ageSeconds !== null ? <Stale ageSeconds={freshness.ageSeconds} /> : null;
}

/** Counting ages are not in a live region: that the line is cut has been announced once. */
function CutOff({ cutSince }: { readonly cutSince: number }) {
  const { nextTryAt, tryNow } = useLine();
  const now = useNow();
  const zone = useZone();
  const skew = nowMs() - Date.now();
  const wait = Math.max(0, Math.ceil(((nextTryAt ?? 0) - (now - skew)) / 1000));
  return (
    <div className="bar cut">
      <span>
        <b>{words.cutOffFor(duration((now - skew - cutSince) / 1000))}</b>{' '}
        {words.seenFrom(clockTimeSeconds(cutSince + skew, zone))}{' '}
        {wait > 0 ? words.tryingIn(duration(wait)) : words.trying}
      </span>
      <button type="button" onClick={tryNow}>
        {words.tryNow}
      </button>
    </div>
  );
}

function Stale({ ageSeconds }: { readonly ageSeconds: number }) {
  const now = useNow();
  const zone = useZone();
  useEffect(() => announce(words.isStale, 'polite'), []);
  return (
    <div className="bar cut">
      <span>
        <b>{words.noScanFor(duration(ageSeconds))}</b> {words.seenFrom(clockTimeSeconds(now - ageSeconds * 1000, zone))}
      </span>
    </div>
  );
}
