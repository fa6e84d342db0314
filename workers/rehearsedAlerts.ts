/** The alerts of a rehearsal: gathered from what the watch says, and two runs of the same past compared. Pure. */
import type { RehearsedAlert, RehearsedChamber } from '../shared/contract/rehearsal.ts';
import type { Signature } from '../shared/contract/words.ts';
import type { WatchEvent } from '../shared/watch/types.ts';

const iso = (ms: number): string => new Date(ms).toISOString();

const openOne = (alerts: readonly RehearsedAlert[], signature: Signature): number =>
  alerts.findLastIndex((alert) => alert.signature === signature && alert.returnedAt === null);

/** Puts another in the place of one of them. */
const replaced = (alerts: readonly RehearsedAlert[], at: number, changed: Partial<RehearsedAlert>): RehearsedAlert[] =>
  alerts.map((alert, i) => (i === at ? { ...alert, ...changed } : alert));

/** An alert for every call: what is raised again after it had returned is another. */
export const withEvent = (alerts: readonly RehearsedAlert[], event: WatchEvent): readonly RehearsedAlert[] => {
  const at = openOne(alerts, event.signature);
  if (event.kind === 'returned') return at < 0 ? alerts : replaced(alerts, at, { returnedAt: iso(event.atMs) });
  const { signature, priority } = event;
  if (at >= 0) {
    const gases = [...new Set([...(alerts[at]?.gases ?? []), ...event.gases])];
    return replaced(alerts, at, { gases, priority });
  }
  if (event.kind === 'updated') return alerts;
  return [...alerts, { signature, gases: [...event.gases], priority, raisedAt: iso(event.atMs), returnedAt: null }];
};

/** A person has closed the alert: what still stands is called anew. */
export const withClose = (
  alerts: readonly RehearsedAlert[],
  close: { readonly signature: Signature; readonly atMs: number },
): readonly RehearsedAlert[] => {
  const at = openOne(alerts, close.signature);
  return at < 0 ? alerts : replaced(alerts, at, { returnedAt: iso(close.atMs) });
};

/** What stood at any time from `fromMs` on. */
export const standingSince = (alerts: readonly RehearsedAlert[], fromMs: number): RehearsedAlert[] =>
  alerts.filter(({ returnedAt }) => returnedAt === null || Date.parse(returnedAt) >= fromMs);

const endMs = ({ returnedAt }: RehearsedAlert): number =>
  returnedAt === null ? Number.POSITIVE_INFINITY : Date.parse(returnedAt);

const overlap = (a: RehearsedAlert, b: RehearsedAlert): boolean =>
  a.signature === b.signature && Date.parse(a.raisedAt) <= endMs(b) && Date.parse(b.raisedAt) <= endMs(a);

const isMoved = (a: RehearsedAlert, b: RehearsedAlert): boolean =>
  a.raisedAt !== b.raisedAt || a.returnedAt !== b.returnedAt || a.priority !== b.priority;

export type Difference = Pick<RehearsedChamber, 'gained' | 'lost' | 'moved'>;

/**
 * The same alert in both: the same signature, standing at the same time; each is paired once, the earliest first, so
 * that one which stands and becomes three that come and go counts as two gained.
 */
export const compareAlerts = (asIs: readonly RehearsedAlert[], asChanged: readonly RehearsedAlert[]): Difference => {
  const left = [...asChanged];
  const lost: RehearsedAlert[] = [];
  const moved: Difference['moved'] = [];
  for (const alert of asIs) {
    const at = left.findIndex((other) => overlap(alert, other));
    const [partner] = at < 0 ? [] : left.splice(at, 1);
    if (partner === undefined) lost.push(alert);
    else if (isMoved(alert, partner)) moved.push({ asIs: alert, asChanged: partner });
  }
  return { gained: left, lost, moved };
};
