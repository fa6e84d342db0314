/**
 * What the watch's events do to the alerts of a chamber. Pure: alerts in, alerts and audit lines out.
 *
 * A chamber has at most one open alert per signature. Its analysers share it: the alert lists whose watch holds the
 * condition as standing, gathers their gases, speaks with the finding of one of them, and returns when the last lets go.
 */

import type { Rationalisation } from '../shared/contract/rationalisation.ts';
import type { Priority, Signature } from '../shared/contract/words.ts';
import { type AlertMoveLine, alertId, type StandingAlert } from '../shared/db/alerts.ts';
import { raisedUnder } from '../shared/watch/holds.ts';
import { type AlertMoveRequest, moveAlert, raiseAlert, reAlarmAtMs } from '../shared/watch/lifecycle.ts';
import { SHORT_STATES } from '../shared/watch/states.ts';
import type { Finding, WatchEvent } from '../shared/watch/types.ts';
import { AS_BUILT, type Practice } from './practice.ts';

export interface StandingChange {
  readonly alerts: readonly StandingAlert[];
  readonly moves: readonly AlertMoveLine[];
}

/** The chamber went over into another operating state. */
export interface StateEvent {
  readonly kind: 'state';
  readonly atMs: number;
  readonly state: string;
}
export type ChamberEvent = WatchEvent | StateEvent;

type Raised = Extract<WatchEvent, { kind: 'raised' | 'updated' }>;

interface Desk {
  readonly chamber: string;
  readonly practice: Practice;
  /** Of the chamber, as one of its analysers last reported a change; null: none was ever reported. */
  operatingState: Practice['operatingState'];
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
const moved = (
  desk: Desk,
  alert: StandingAlert,
  request: AlertMoveRequest,
  note: string | null = null,
): StandingAlert => {
  const result = moveAlert(alert.life, request);
  if (!result.ok) throw new Error(`alert ${alert.id} (${alert.signature}) cannot ${request.kind}: ${result.reason}`);
  const { from, to } = result;
  desk.moves.push({ alert: alert.id, at: new Date(request.atMs), by: null, move: request.kind, from, to, note });
  return { ...alert, life: result.alert };
};

const raiseNew = (desk: Desk, analyser: string, event: Raised) => {
  const { signature, atMs, gases, priority } = event;
  const id = alertId({ chamber: desk.chamber, analyser, signature, raisedAtMs: atMs });
  const told = desk.practice.records[signature];
  const { latching, reAlarmHours, responder } = told.record;
  const pause = desk.practice.breaks.get(signature);
  const outOfService = pause && atMs < pause.untilMs ? pause : null;
  const reason = disarmedBy(desk, signature);
  const suppressed = reason === null ? null : { sinceMs: atMs, reason };
  const life = raisedUnder(raiseAlert(atMs, { latching, reAlarmHours }), { suppressed, outOfService });
  // One line of audit: what is raised under a hold has never called anybody.
  const note = outOfService?.reason ?? reason;
  desk.moves.push({ alert: id, at: new Date(atMs), by: null, move: 'raise', from: null, to: life.state, note });
  const finding = saidBy(told, event.finding);
  const fixed = { id, analyser, signature, responder, rationalisationVersion: told.version };
  keep(desk, { ...fixed, gases: [...gases], priority, finding, heldBy: [analyser], life });
};

/** Where people have written another first step, the alert says theirs. */
const saidBy = ({ signature, record, version }: Rationalisation, finding: Finding): Finding => {
  const [first = null] = record.responseSteps;
  const isTheirs = version > 0 && first !== AS_BUILT.records[signature].record.responseSteps[0];
  return isTheirs ? { ...finding, firstStep: first } : finding;
};

/**
 * Why the signature is not armed in the chamber's state; null: it is. A gas step of minutes takes nothing from what stood
 * at rest, and would call again after every one, unless people have said that it does.
 */
const disarmedBy = ({ operatingState, practice }: Desk, signature: Signature): string | null => {
  if (operatingState === null) return null;
  const { state } = operatingState;
  const isArmed = ({ record }: Rationalisation) => (record.armedStates as readonly string[]).includes(state);
  if (isArmed(practice.records[signature])) return null;
  if (SHORT_STATES.has(state) && !isArmed(AS_BUILT.records[signature])) return null;
  return `not armed in the state ${state}`;
};

/** A chamber has changed its state: what stands is suppressed by design, or armed again. */
const followState = (desk: Desk, { atMs, state }: StateEvent) => {
  // Of an analyser whose scans come later than those of its neighbour: the chamber has gone on.
  if (desk.operatingState && atMs < desk.operatingState.sinceMs) return;
  desk.operatingState = { state, sinceMs: atMs };
  for (const alert of [...desk.open.values()].sort((a, b) => (a.id < b.id ? -1 : 1))) {
    const reason = disarmedBy(desk, alert.signature);
    const { suppressed, active } = alert.life;
    if (reason === null && suppressed) keep(desk, moved(desk, alert, { kind: 'unsuppress', atMs }, `now ${state}`));
    else if (reason !== null && !suppressed && active)
      keep(desk, moved(desk, alert, { kind: 'suppress', atMs, reason }, reason));
  }
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
  if (!speaks) return { ...alert, gases, priority };
  const told = desk.practice.records[event.signature];
  // A record that was written meanwhile is for alerts that are raised from then on.
  const same = told.version === alert.rationalisationVersion;
  const finding = same ? saidBy(told, event.finding) : { ...event.finding, firstStep: alert.finding.firstStep };
  return { ...alert, gases, priority, analyser, finding };
};

const raise = (desk: Desk, analyser: string, event: Raised) => {
  const alert = desk.open.get(event.signature);
  if (!alert) return raiseNew(desk, analyser, event);
  const { atMs, signature } = event;
  let standing = alert.life.active ? alert : moved(desk, alert, { kind: 're-raise', atMs });
  const reason = disarmedBy(desk, signature);
  if (reason !== null && !standing.life.suppressed)
    standing = moved(desk, standing, { kind: 'suppress', atMs, reason }, reason);
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

const openDesk = (chamber: string, standing: readonly StandingAlert[], practice: Practice): Desk => ({
  chamber,
  practice,
  operatingState: practice.operatingState,
  open: new Map(standing.map((alert) => [alert.signature, alert])),
  changed: new Map(),
  moves: [],
});

/**
 * @param events in time order, an analyser's change of state before what its scan raised
 * @param practice how alerts of this chamber are handled
 */
export const applyEvents = (
  chamber: string,
  standing: readonly StandingAlert[],
  events: readonly { readonly analyser: string; readonly event: ChamberEvent }[],
  practice: Practice = AS_BUILT,
): StandingChange => {
  const desk = openDesk(chamber, standing, practice);
  for (const { analyser, event } of events) {
    if (event.kind === 'raised') raise(desk, analyser, event);
    else if (event.kind === 'updated') update(desk, analyser, event);
    else if (event.kind === 'state') followState(desk, event);
    else letGo(desk, analyser, event);
  }
  return { alerts: [...desk.changed.values()], moves: desk.moves };
};

/**
 * What the clock does to alerts by `now`: shelving and breaks of service end as of the instant at which their time was
 * up; what was acknowledged long ago and still stands asks again as of now.
 */
export const endByClock = (chamber: string, standing: readonly StandingAlert[], now: Date): StandingChange => {
  const desk = openDesk(chamber, standing, AS_BUILT);
  const nowMs = now.getTime();
  const due = (untilMs: number | null | undefined): untilMs is number => untilMs != null && untilMs <= nowMs;
  for (const before of standing) {
    let alert = before;
    const { shelved, outOfService } = before.life;
    if (due(shelved?.untilMs)) alert = moved(desk, alert, { kind: 'unshelve', atMs: shelved.untilMs, by: null });
    if (due(outOfService?.untilMs))
      alert = moved(desk, alert, { kind: 'return-to-service', atMs: outOfService.untilMs, by: null });
    if (due(reAlarmAtMs(alert.life))) alert = moved(desk, alert, { kind: 're-alarm', atMs: nowMs });
    if (alert !== before) keep(desk, alert);
  }
  return { alerts: [...desk.changed.values()], moves: desk.moves };
};
