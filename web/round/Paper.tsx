import { useLocation, useSearch } from 'wouter';
import type { Round } from '../../shared/contract/round.ts';
import { useNow } from '../frame/clock.ts';
import { useSession, useUnit, useZone } from '../frame/site.ts';
import { clockTime, longDate, moment, offsetText } from '../notation/time.ts';
import { words } from '../strings/handover.ts';
import { signedOf } from './rows.ts';

/** What only the printed sheet has: it lies on a desk without the page around it. */
export function PaperHead({
  round,
  shift,
}: {
  readonly round: Round;
  readonly shift: Round['areas'][number]['shift'];
}) {
  const { site } = useSession();
  const unit = useUnit();
  const zone = useZone();
  const now = useNow(30);
  const [last] = signedOf(round);
  const { paper } = words;
  return (
    <p className="paper-head">
      <b>{shift ? paper.sheetShift(shift.from, shift.to) : paper.sheet}</b>
      <span>{paper.where(site.name, longDate(now, zone), clockTime(now, zone), offsetText(now, zone))}</span>
      <span>{last ? paper.lastSigned(moment(Date.parse(last.at), zone, now), last.by) : paper.neverSigned}</span>
      {site.example ? <span>{paper.example}</span> : null}
      <span>{paper.pressuresIn(unit)}</span>
    </p>
  );
}

/** A box beside every chamber, to be ticked with a pen. */
export const Tick = () => <i className="tick" aria-hidden="true" />;

/** Two lines to sign on. */
export function SignatureLines() {
  return (
    <div className="paper-sign" aria-hidden="true">
      <span>{words.paper.handedOver}</span>
      <span>{words.paper.takenOver}</span>
    </div>
  );
}

/** Keys to the signs, the two signatures, and where the same view is found again. */
export function PaperFoot({ catalogue }: { readonly catalogue: string }) {
  const { version } = useSession();
  const [path] = useLocation();
  const search = useSearch();
  return (
    <div className="paper-foot" aria-hidden="true">
      <p>{words.paper.key}</p>
      <SignatureLines />
      <p>
        <span>{words.paper.foot(version, catalogue)}</span>
        <span className="code">{`${window.location.origin}${path}${search === '' ? '' : `?${search}`}`}</span>
      </p>
    </div>
  );
}
