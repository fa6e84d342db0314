/** Alerts told once: those that share a cause, and floods. Worked out when they are asked for; nothing of it is stored. */
import type { Sql } from 'postgres';
import type { AlertGroup } from '../shared/contract/alerts.ts';
import { readCalls, readGroupedAlerts, readGroupedChambers, type Span } from '../shared/db/alertGroups.ts';
import type { AlertRow } from '../shared/db/alertLists.ts';
import { floods } from '../shared/watch/floods.ts';
import {
  type FoundGroup,
  groupOfAlerts,
  LEAST_CHAMBERS,
  LONGEST_CLUSTER_MS,
  sharedCauses,
} from '../shared/watch/groups.ts';
import { iso } from './instant.ts';

/** A cluster that reaches into the span is seen whole: else its id would hang on where the span begins. */
const widened = ({ from, to }: Span): Span => ({
  from: new Date(from.getTime() - 2 * LONGEST_CLUSTER_MS),
  to: new Date(to.getTime() + LONGEST_CLUSTER_MS),
});

const within =
  ({ from, to }: Span) =>
  ({ fromMs, toMs }: FoundGroup): boolean =>
    fromMs <= to.getTime() && toMs >= from.getTime();

/** Spans in time order; those that touch become one. */
const merged = (spans: readonly Span[]): Span[] => {
  const whole: Span[] = [];
  for (const span of [...spans].sort((a, b) => a.from.getTime() - b.from.getTime())) {
    const before = whole.at(-1);
    if (!before || span.from > before.to) whole.push(span);
    else if (span.to > before.to) whole[whole.length - 1] = { from: before.from, to: span.to };
  }
  return whole;
};

const sharedWithin = async (sql: Sql, spans: readonly Span[]): Promise<FoundGroup[]> => {
  if (spans.length === 0) return [];
  const alerts = await readGroupedAlerts(sql, merged(spans.map(widened)));
  return alerts.length < LEAST_CHAMBERS ? [] : sharedCauses(alerts, await readGroupedChambers(sql));
};

/** Groups that share a cause and touch the span. */
export const readSharedCauses = async (sql: Sql, span: Span): Promise<FoundGroup[]> =>
  (await sharedWithin(sql, [span])).filter(within(span));

/** Groups that share a cause and in which one of these alerts is. */
export const readCausesOf = async (
  sql: Sql,
  alerts: readonly { readonly id: string; readonly raisedAt: Date }[],
): Promise<FoundGroup[]> => {
  const asked = new Set(alerts.map(({ id }) => id));
  const groups = await sharedWithin(
    sql,
    alerts.map(({ raisedAt }) => ({ from: raisedAt, to: raisedAt })),
  );
  return groups.filter((group) => group.alerts.some((id) => asked.has(id)));
};

/** Alert → the group that it began in. */
export const readGroupOf = async (sql: Sql, rows: readonly AlertRow[]): Promise<ReadonlyMap<string, string>> =>
  groupOfAlerts(
    await readCausesOf(
      sql,
      rows.map(({ id, life }) => ({ id, raisedAt: new Date(life.raisedAtMs) })),
    ),
  );

/** Groups and floods that touch the span. */
export const readGroups = async (sql: Sql, span: Span): Promise<AlertGroup[]> => {
  const [shared, calls] = await Promise.all([readSharedCauses(sql, span), readCalls(sql, widened(span))]);
  return [...shared, ...floods(calls).filter(within(span))]
    .sort((a, b) => b.fromMs - a.fromMs || (a.id < b.id ? -1 : 1))
    .map(presentGroup);
};

export const presentGroup = ({ fromMs, toMs, ...group }: FoundGroup): AlertGroup => ({
  ...group,
  shared: [...group.shared],
  alerts: [...group.alerts],
  chambers: [...group.chambers],
  from: iso(new Date(fromMs)),
  to: iso(new Date(toMs)),
});
