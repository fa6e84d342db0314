/** The handover of an area as it stands: what is open, put away or unseen, and what people have written. */
import type { Handover, HandoverAlert, HandoverEntry, PutAwayAlert } from '../shared/contract/handover.ts';
import type { RoundLine } from '../shared/contract/round.ts';
import type { EntryRow, HandoverAlertRow } from '../shared/db/handover.ts';
import { asksForSomebody } from './chamberLine.ts';
import { iso, isoOrNull } from './instant.ts';

export const presentEntry = ({ at, dueAt, doneAt, ...entry }: EntryRow): HandoverEntry => ({
  ...entry,
  at: iso(at),
  dueAt: isoOrNull(dueAt),
  doneAt: isoOrNull(doneAt),
});

const head = ({ id, chamber, chamberName, signature, priority, state, summary, raisedAt }: HandoverAlertRow) => ({
  id,
  chamber,
  chamberName,
  signature,
  priority,
  state,
  summary,
  raisedAt: iso(raisedAt),
});

const openAlert = (row: HandoverAlertRow): HandoverAlert => ({
  ...head(row),
  firstStep: row.firstStep,
  acknowledged:
    row.state === 'acknowledged' && row.acknowledgedAt !== null
      ? { by: row.acknowledgedBy ?? '', at: iso(row.acknowledgedAt), note: row.acknowledgedNote ?? '' }
      : null,
});

const putAway = (row: HandoverAlertRow): PutAwayAlert => ({
  ...head(row),
  since: isoOrNull(row.since),
  until: isoOrNull(row.until),
  by: row.by,
  reason: row.reason,
});

const byReturn = (a: HandoverAlertRow, b: HandoverAlertRow): number =>
  (a.until?.getTime() ?? Number.POSITIVE_INFINITY) - (b.until?.getTime() ?? Number.POSITIVE_INFINITY);

export interface HandoverFacts {
  readonly area: { readonly id: string; readonly name: string };
  readonly now: Date;
  readonly lines: readonly RoundLine[];
  readonly alerts: readonly HandoverAlertRow[];
  readonly entries: readonly EntryRow[];
  readonly closed: readonly EntryRow[];
}

export const handoverOf = ({ area, now, lines, alerts, entries, closed }: HandoverFacts): Handover => {
  const inState = (state: string) => alerts.filter((alert) => alert.state === state);
  const written = (kind: string) => entries.filter((entry) => entry.kind === kind).map(presentEntry);
  return {
    area: area.id,
    areaName: area.name,
    at: iso(now),
    open: alerts.filter(asksForSomebody).map(openAlert),
    shelved: inState('shelved').sort(byReturn).map(putAway),
    suppressed: inState('suppressed').map(putAway),
    outOfService: inState('out-of-service').sort(byReturn).map(putAway),
    unseen: lines
      .filter(({ health }) => health === 'blind' || health === 'stale')
      .map(({ id, name, health, state, lastScanAt, say }) => ({
        chamber: id,
        chamberName: name,
        health,
        state,
        lastScanAt,
        say,
      })),
    work: written('work'),
    promises: written('promise'),
    watch: written('watch'),
    done: closed.map(presentEntry),
  };
};
