import type { ReactNode } from 'react';
import { Link } from 'wouter';
import type { ChamberDetail } from '../api/shapes.ts';
import { useNow } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { duration } from '../notation/age.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/chamber.ts';
import { Rich } from '../strings/Rich.tsx';
import { conditionOf } from '../strip/ChamberStrip.tsx';

const bold = (inner: ReactNode) => <b>{inner}</b>;

/** What is not known of a chamber, before anything that is: last values must not pass for those of now. */
export function Knowledge({ chamber }: { readonly chamber: ChamberDetail }) {
  const now = useNow(5);
  const zone = useZone();
  const { lastScanAt } = chamber;
  if (lastScanAt === null) {
    const link = (inner: ReactNode) => <Link href="/fleet">{inner}</Link>;
    return (
      <p className="bar">
        <span>
          <Rich text={words.neverSent} parts={{ b: bold, link }} />
        </span>
      </p>
    );
  }
  const { kind } = conditionOf(chamber, now);
  if (kind === 'learning' && chamber.learning) {
    const { have, need } = chamber.learning;
    return (
      <p className="bar">
        <span>
          <Rich text={words.learning(have, need)} parts={{ b: bold }} />
        </span>
      </p>
    );
  }
  if (kind !== 'stale' && kind !== 'blind') return null;
  const at = Date.parse(lastScanAt);
  const age = duration((now - at) / 1000);
  return (
    <p className="bar cut">
      <span>
        <Rich text={words[kind](moment(at, zone, now), age)} parts={{ b: bold }} />
      </span>
    </p>
  );
}
