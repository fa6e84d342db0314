import type { Alert, AlertGroup } from '../../shared/contract/alerts.ts';
import { byWeight, isPutAside, PUT_ASIDE, type PutAside } from './moves.ts';

/** One line of the list: an alert that stands alone, or a group that is said once. */
export type Entry =
  | { readonly kind: 'alert'; readonly alert: Alert }
  | { readonly kind: 'group'; readonly group: AlertGroup; readonly members: readonly Alert[] };

/** Members that are on the list together stand where the weightiest of them would; one alone stays an alert. */
export function entriesOf(alerts: readonly Alert[], groups: readonly AlertGroup[]): readonly Entry[] {
  const known = new Map(groups.map((group) => [group.id, group]));
  const members = new Map<string, Alert[]>();
  for (const alert of alerts) {
    if (alert.group === null || !known.has(alert.group)) continue;
    members.set(alert.group, [...(members.get(alert.group) ?? []), alert]);
  }
  const said = new Set<string>();
  return [...alerts].sort(byWeight).flatMap((alert): Entry[] => {
    const group = alert.group === null ? undefined : known.get(alert.group);
    const together = group ? (members.get(group.id) ?? []) : [];
    if (!group || together.length < 2) return [{ kind: 'alert', alert }];
    if (said.has(group.id)) return [];
    said.add(group.id);
    return [{ kind: 'group', group, members: [...together].sort(byWeight) }];
  });
}

/** The earliest alert that says it belongs to a group: from then on groups are asked for. Null: none does. */
export function groupsFrom(alerts: readonly Alert[]): number | null {
  const times = alerts.filter(({ group }) => group !== null).map(({ raisedAt }) => Date.parse(raisedAt));
  return times.length === 0 ? null : Math.min(...times) - LOOK_BACK_MS;
}
/** A group begins with its first member, which may be older than those on the list. */
const LOOK_BACK_MS = 48 * 3_600_000;

export interface Lists {
  /** Those that may call a person. */
  readonly calling: readonly Alert[];
  readonly aside: Readonly<Record<PutAside, readonly Alert[]>>;
}

/** Open alerts that call nobody stand in lists of their own, each with what ends it; the soonest first. */
export function partedBy(alerts: readonly Alert[]): Lists {
  const of = (state: PutAside) => alerts.filter((alert) => alert.state === state).sort(bySoonest);
  return {
    calling: alerts.filter(({ state }) => !isPutAside(state)),
    aside: { shelved: of('shelved'), suppressed: of('suppressed'), 'out-of-service': of('out-of-service') },
  };
}

const endsAt = ({ shelvedUntil, outOfService }: Alert): number =>
  Date.parse(outOfService?.until ?? shelvedUntil ?? '') || Number.POSITIVE_INFINITY;
const bySoonest = (a: Alert, b: Alert): number => endsAt(a) - endsAt(b) || byWeight(a, b);

export const countAside = ({ aside }: Lists): number => PUT_ASIDE.reduce((sum, state) => sum + aside[state].length, 0);
