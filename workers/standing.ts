/**
 * What the watch's events do to the alerts of a chamber. Pure: alerts in, alerts and audit lines out.
 *
 * A chamber has at most one open alert per signature. Its analysers share it: the alert lists whose watch holds the
 * condition as standing, gathers their gases, speaks with the finding of one of them, and returns when the last lets go.
 */

import type { Priority } from '../shared/contract/words.ts';
import { type AlertMoveLine, alertId, type StandingAlert } from '../shared/db/alerts.ts';
import { type AlertMoveRequest, moveAlert, raiseAlert } from '../shared/watch/lifecycle.ts';
import type { WatchEvent } from '../shared/watch/types.ts';

export interface StandingChange {
  readonly alerts: readonly StandingAlert[];
  readonly moves: readonly AlertMoveLine[];
}

type Raised = Extract<WatchEvent, { kind: 'raised' | 'updated' }>;

interface Desk {
  readonly chamber: string;
  /** Open alerts by signature. */
  readonly open: Map<string, StandingAlert>;
  readonly changed: Map<string, StandingAlert>;
  readonly moves: AlertMoveLine[];
}

const RANK: Record<Priority, number> = { high: 0, medium: 1, low: 2 };
const higher = (a: Priority, b: Priority): Priority => (RANK[a] <= RANK[b] ? a : b);
const union = (a: readonly string[], b: readonly string[]): string[] => [...new Set([...a, ...b])];

const keep = (desk: Desk, alert: StandingAlert) => {
  desk.changed.set(alert.id, alert);
  if (alert.life.state === 'normal') desk.open.delete(alert.signature);
  else desk.open.set(alert.signature, alert);
};

/** Makes a move of the watch or the clock, which the lifecycle may not refuse: a refusal is a mistake of ours. */
const moved = (desk: Desk, alert: StandingAlert, request: AlertMoveRequest): StandingAlert => {
  const result = moveAlert(alert.life, request);
  if (!result.ok) throw new Error(`alert ${alert.id} (${alert.signature}) cannot ${request.kind}: ${result.reason}`);
  desk.moves.push({
    alert: alert.id,
    at: new Date(request.atMs),
    by: null,
    move: request.kind,
    from: result.from,
    to: result.to,
    note: null,
  });
  return { ...alert, life: result.alert };
};

const raiseNew = (desk: Desk, analyser: string, event: Raised) => {
  const { signature, atMs } = event;
  const id = alertId({ chamber: desk.chamber, analyser, signature, raisedAtMs: atMs });
  const life = raiseAlert(atMs);
  desk.moves.push({ alert: id, at: new Date(atMs), by: null, move: 'raise', from: null, to: life.state, note: null });
  const { gases, priority, finding } = event;
  keep(desk, { id, analyser, signature, gases: [...gases], priority, finding, heldBy: [analyser], life });
};

/** The alert speaks with the finding of its own analyser, or of whoever finds it without a voice. */
const withFinding = (desk: Desk, alert: StandingAlert, from: { analyser: string; event: Raised }): StandingAlert => {
  const { analyser, event } = from;
  const voiceless = alert.analyser === null || !alert.heldBy.includes(alert.analyser);
  const speaks = voiceless || alert.analyser === analyser;
  const priority = speaks && alert.heldBy.length <= 1 ? event.priority : higher(alert.priority, event.priority);
  if (priority !== alert.priority) {
    const { state } = alert.life;
    const note = `${alert.priority} to ${priority}`;
    desk.moves.push({
      alert: alert.id,
      at: new Date(event.atMs),
      by: null,
      move: 'priority',
      from: state,
      to: state,
      note,
    });
  }
  const gases = union(alert.gases, event.gases);
  return { ...alert, gases, priority, ...(speaks ? { analyser, finding: event.finding } : {}) };
};

const raise = (desk: Desk, analyser: string, event: Raised) => {
  const alert = desk.open.get(event.signature);
  if (!alert) return raiseNew(desk, analyser, event);
  const standing = alert.life.active ? alert : moved(desk, alert, { kind: 're-raise', atMs: event.atMs });
  const spoken = withFinding(desk, standing, { analyser, event });
  keep(desk, { ...spoken, heldBy: union(alert.heldBy, [analyser]) });
};

const update = (desk: Desk, analyser: string, event: Raised) => {
  const alert = desk.open.get(event.signature);
  // A person has closed it in the meantime: the watch is told with its next scan.
  if (!alert?.heldBy.includes(analyser)) return;
  keep(desk, withFinding(desk, alert, { analyser, event }));
};

const letGo = (desk: Desk, analyser: string, event: Extract<WatchEvent, { kind: 'returned' }>) => {
  const alert = desk.open.get(event.signature);
  if (!alert?.heldBy.includes(analyser)) return;
  const heldBy = alert.heldBy.filter((other) => other !== analyser);
  const left = { ...alert, heldBy };
  keep(desk, heldBy.length > 0 || !alert.life.active ? left : moved(desk, left, { kind: 'return', atMs: event.atMs }));
};

const openDesk = (chamber: string, standing: readonly StandingAlert[]): Desk => ({
  chamber,
  open: new Map(standing.map((alert) => [alert.signature, alert])),
  changed: new Map(),
  moves: [],
});

/** @param events in time order */
export const applyEvents = (
  chamber: string,
  standing: readonly StandingAlert[],
  events: readonly { readonly analyser: string; readonly event: WatchEvent }[],
): StandingChange => {
  const desk = openDesk(chamber, standing);
  for (const { analyser, event } of events) {
    if (event.kind === 'raised') raise(desk, analyser, event);
    else if (event.kind === 'updated') update(desk, analyser, event);
    else letGo(desk, analyser, event);
  }
  return { alerts: [...desk.changed.values()], moves: desk.moves };
};

/** Ends the shelving whose time was up by `now`, as of the instant at which it was up. */
export const endShelving = (chamber: string, standing: readonly StandingAlert[], now: Date): StandingChange => {
  const desk = openDesk(chamber, standing);
  for (const alert of standing) {
    const untilMs = alert.life.shelved?.untilMs;
    if (alert.life.state !== 'shelved' || untilMs === undefined || untilMs > now.getTime()) continue;
    keep(desk, moved(desk, alert, { kind: 'unshelve', atMs: untilMs, by: null }));
  }
  return { alerts: [...desk.changed.values()], moves: desk.moves };
};
