/** One line per chamber: health in a word and a sentence, what is worst, and where its gases stand. */

import type { ChamberLine, StripMark } from '../shared/contract/readings.ts';
import type { Health, PressureUnit, Priority } from '../shared/contract/words.ts';
import type { ChamberFacts, LatestFacts, OpenAlertFacts } from '../shared/db/chamberFacts.ts';
import type { SeenChamber } from '../shared/db/rounds.ts';
import { doubtOf } from '../shared/watch/doubt.ts';
import { judgeHealth } from '../shared/watch/health.ts';
import { judgeSilence } from '../shared/watch/silence.ts';
import { gasName } from './gasNames.ts';
import { iso, isoOrNull } from './instant.ts';
import { gasReadings, plain } from './present.ts';

export const PRIORITY_RANK: Record<Priority, number> = { high: 0, medium: 1, low: 2 };
const ASKING: Record<string, number> = { unacknowledged: 0, 'returned-unacknowledged': 1, acknowledged: 2 };

/** Open and not put away: somebody is wanted. */
export const asksForSomebody = (alert: { state: string }): boolean => alert.state in ASKING;

/** An analyser that is this much older than its neighbour no longer speaks for the chamber. */
const SPEAKS_FOR_MS = 10 * 60_000;

/** The first analyser of the document that still sends; if it has fallen behind, the one that sent last. */
export const speaker = (latest: readonly LatestFacts[]): LatestFacts | null => {
  const newestMs = Math.max(...latest.map(({ at }) => at.getTime()));
  return latest.find(({ at }) => at.getTime() >= newestMs - SPEAKS_FOR_MS) ?? null;
};

const byUrgency = (a: OpenAlertFacts, b: OpenAlertFacts): number =>
  PRIORITY_RANK[a.priority] - PRIORITY_RANK[b.priority] ||
  (ASKING[a.state] ?? 0) - (ASKING[b.state] ?? 0) ||
  b.raisedAt.getTime() - a.raisedAt.getTime();

const worstOf = (alerts: readonly OpenAlertFacts[]): ChamberLine['worst'] => {
  const worst = alerts.filter(asksForSomebody).sort(byUrgency)[0];
  if (!worst) return null;
  const { id, signature, priority, state, summary, firstStep, raisedAt } = worst;
  return { id, signature, priority, state, summary, firstStep, raisedAt: iso(raisedAt) };
};

const stripOf = (facts: ChamberFacts, latest: LatestFacts | null, seen: SeenChamber | null): StripMark[] => {
  const asking = facts.openAlerts.filter(asksForSomebody).sort(byUrgency);
  return (latest?.strip ?? []).map((mark) => ({
    gas: mark.gas,
    status: mark.status,
    decades: plain(mark.decades),
    halfWidth: plain(mark.halfWidth),
    atLastRound: seen?.strip[mark.gas] ?? null,
    alert: asking.find(({ gases }) => gases.includes(mark.gas))?.priority ?? null,
  }));
};

/** With how long it stays put away, by the hold that names its state, and whether another analyser still sees. */
const forHealth = (alert: OpenAlertFacts, analysers: readonly string[]) => {
  const until = alert.state === 'out-of-service' ? alert.outOfServiceUntil : alert.shelvedUntil;
  return {
    ...alert,
    untilMs: alert.state === 'suppressed' ? null : (until?.getTime() ?? null),
    reason: alert.putAwayReason,
    inAll: analysers.every((analyser) => alert.heldBy.includes(analyser)),
  };
};

export interface LineOptions {
  unit: PressureUnit;
  now: Date;
  /** The chamber at the last signed round of its area. */
  seen: SeenChamber | null;
}

export const chamberLine = (facts: ChamberFacts, { unit, now, seen }: LineOptions): ChamberLine => {
  const current = facts.latest.filter(({ analyser }) => facts.retired || facts.analysers.includes(analyser));
  const latest = current.length > 0 ? speaker(current) : null;
  const clock = {
    lastScanAtMs: latest?.at.getTime() ?? null,
    periodSeconds: latest?.scanPeriodSeconds ?? null,
    state: latest?.state ?? null,
    nowMs: now.getTime(),
  };
  const verdict = judgeHealth({
    ...clock,
    openAlerts: facts.openAlerts.map((alert) => forHealth(alert, facts.analysers)),
    stateSinceMs: latest?.stateSince.getTime() ?? null,
    learning: latest?.learning ?? null,
    youngSinceMs: latest?.youngSince?.getTime() ?? null,
    strip: latest?.strip ?? [],
    doubt: doubtOf(latest?.notes ?? []),
    retired: facts.retired,
    restSinceMs: facts.lastEndedAt?.getTime() ?? null,
    gasName,
  });
  const silentAlert = facts.openAlerts.some(
    ({ signature, state }) => signature === 'silent' && asksForSomebody({ state }),
  );
  return {
    id: facts.id,
    name: facts.name,
    area: facts.area,
    kind: facts.kind,
    tags: [...facts.tags],
    analysers: [...facts.analysers],
    health: verdict.health,
    state: latest?.state ?? null,
    stateSince: isoOrNull(latest?.stateSince ?? null),
    lastScanAt: isoOrNull(latest?.at ?? null),
    scanPeriodSeconds: plain(latest?.scanPeriodSeconds),
    silent: !facts.retired && (judgeSilence(clock).silent || silentAlert),
    learning: latest?.learning ?? null,
    openAlerts: facts.openAlerts.length,
    worst: worstOf(facts.openAlerts),
    say: verdict.say,
    unit,
    gases: gasReadings(latest?.gases ?? [], unit),
    strip: stripOf(facts, latest, seen),
  };
};

const HEALTH_RANK: Record<Health, number> = {
  attention: 0,
  blind: 1,
  stale: 2,
  changed: 3,
  learning: 4,
  unwatched: 5,
  rest: 6,
};

/** What needs a person first: by health, then by the worst alert, then the newest. Else the order is kept. */
export const byAttention = (a: ChamberLine, b: ChamberLine): number => {
  const rank = (line: ChamberLine) => (line.worst ? PRIORITY_RANK[line.worst.priority] : PRIORITY_RANK.low + 1);
  const life = (line: ChamberLine) => (line.worst ? (ASKING[line.worst.state] ?? 0) : 0);
  return (
    HEALTH_RANK[a.health] - HEALTH_RANK[b.health] ||
    rank(a) - rank(b) ||
    life(a) - life(b) ||
    (b.worst?.raisedAt ?? '').localeCompare(a.worst?.raisedAt ?? '')
  );
};
