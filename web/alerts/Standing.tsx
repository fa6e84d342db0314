import type { Alert } from '../../shared/contract/alerts.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { causeTitle } from '../notation/words.ts';
import { words } from '../strings/alertMoves.ts';

/** What holds an alert where it is, one sentence each: until when, why, by whom. */
export function standingLines(alert: Alert, at: (instant: string) => string): readonly string[] {
  const lines: string[] = [];
  if (alert.state === 'shelved' && alert.shelvedUntil)
    lines.push(words.shelvedUntilThenItComes(at(alert.shelvedUntil)));
  if (alert.suppressed)
    lines.push(words.suppressedSince(at(alert.suppressed.since), withoutStop(alert.suppressed.reason)));
  if (alert.outOfService) {
    const { until, by, reason } = alert.outOfService;
    lines.push(words.outOfService2(at(until), by, withoutStop(reason)));
  }
  if (alert.latched && alert.state !== 'normal')
    lines.push(
      alert.returnedAt ? words.latchedItsConditionReturned(at(alert.returnedAt)) : words.latchedItStaysUntilSomebody,
    );
  if (alert.shelvings > 0 && alert.state !== 'normal')
    lines.push(alert.shelvings === 1 ? words.shelvedOnce : words.shelvedTimes(alert.shelvings));
  if (alert.verified) lines.push(foundSaid(alert, causeTitle(alert.verified).toLowerCase()));
  return lines;
}

const withoutStop = (text: string): string => text.replace(/\.\s*$/, '');

/** The person's own words, where they say more than the word that was chosen. */
function foundSaid({ closed }: Alert, cause: string): string {
  if (!closed || closed.cause.toLowerCase() === cause) return words.found(cause);
  return words.foundWith(cause, closed.cause, closed.by);
}

export function Standing({ alert }: { readonly alert: Alert }) {
  const zone = useZone();
  const lines = standingLines(alert, (instant) => moment(Date.parse(instant), zone, nowMs()));
  if (lines.length === 0) return null;
  return (
    <ul className="standing">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
