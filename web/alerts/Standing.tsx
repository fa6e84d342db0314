import type { Alert } from '../../shared/contract/alerts.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { several } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { causeTitle } from '../notation/words.ts';

/** What holds an alert where it is, one sentence each: until when, why, by whom. */
export function standingLines(alert: Alert, at: (instant: string) => string): readonly string[] {
  const lines: string[] = [];
  if (alert.state === 'shelved' && alert.shelvedUntil)
    lines.push(`Shelved until ${at(alert.shelvedUntil)}: then it comes back if the condition still stands.`);
  if (alert.suppressed)
    lines.push(`Suppressed since ${at(alert.suppressed.since)}: ${withoutStop(alert.suppressed.reason)}.`);
  if (alert.outOfService) {
    const { until, by, reason } = alert.outOfService;
    lines.push(`Out of service until ${at(until)}, by ${by}: ${withoutStop(reason)}.`);
  }
  if (alert.latched && alert.state !== 'normal')
    lines.push(
      alert.returnedAt
        ? `Latched: its condition returned ${at(alert.returnedAt)}, and it stays until somebody resets it.`
        : 'Latched: it stays until somebody resets it, even when its condition has returned.',
    );
  if (alert.shelvings > 0 && alert.state !== 'normal')
    lines.push(`It has been shelved ${alert.shelvings === 1 ? 'once' : several(alert.shelvings, 'time')}.`);
  if (alert.verified) lines.push(`Found: ${causeTitle(alert.verified).toLowerCase()}${ownWords(alert)}.`);
  return lines;
}

const withoutStop = (text: string): string => text.replace(/\.\s*$/, '');

/** The person's own words, where they say more than the word that was chosen. */
function ownWords({ closed, verified }: Alert): string {
  if (!closed || closed.cause.toLowerCase() === causeTitle(verified ?? '').toLowerCase()) return '';
  return ` (${closed.cause}), by ${closed.by}`;
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
