/** The alarms of a span of time by the measures of the standards. Pure: facts in, answer out. */
import type { AlertRef, Performance } from '../../shared/contract/performance.ts';
import { PRIORITIES } from '../../shared/contract/words.ts';
import { iso, isoOrNull } from '../instant.ts';
import { type Annunciation, countedOnce, DAY_MS, floodsOf, perDay, topOf } from './annunciations.ts';
import type { AlertFact, Asked, CallFact, Watched } from './facts.ts';
import { measuresOf } from './measures.ts';
import { chatteringOf, fleetingOf, type Stood, staleOf } from './nuisance.ts';

export interface Facts {
  readonly asked: Asked;
  readonly now: Date;
  readonly alerts: readonly AlertFact[];
  readonly calls: readonly CallFact[];
  readonly watched: Watched;
  /** Alert → the group that it began in. */
  readonly groupOf: ReadonlyMap<string, string>;
  readonly dayOf: (atMs: number) => string;
}

const TOP = 10;
/** Lists on the page; the counts are of all. */
const MOST_LISTED = 100;
/** Share of calls per priority that the standards advise. */
const PRIORITY_TARGET = { high: 0.05, medium: 0.15, low: 0.8 } as const;
/** Found, but nothing that anybody acted on. */
const FALSE_ALERT = 'false-alert';
const PLANNED = 'planned-work';

const refOf = (fact: AlertFact): AlertRef => ({
  id: fact.id,
  chamber: fact.chamber,
  signature: fact.signature,
  priority: fact.priority,
  state: fact.state,
  raisedAt: iso(fact.raisedAt),
  summary: fact.summary,
});

/** The last call of each alert with its return. */
function stoodOf(alerts: readonly AlertFact[], calls: readonly CallFact[]): Stood[] {
  const lastCall = new Map(calls.map(({ alert, at }) => [alert, at.getTime()]));
  return alerts.map((alert) => ({
    alert: alert.id,
    calledAtMs: lastCall.get(alert.id) ?? alert.raisedAt.getTime(),
    returnedAtMs: alert.active ? null : (alert.returnedAt ?? alert.closedAt ?? alert.raisedAt).getTime(),
    touched: alert.touched,
  }));
}

function closedOf({ alerts, asked }: Facts) {
  const closed = alerts.filter(({ closedAt }) => closedAt !== null && closedAt >= asked.from && closedAt < asked.to);
  const planned = closed.filter(({ verified }) => verified === PLANNED).length;
  const falseAlerts = closed.filter(({ verified }) => verified === FALSE_ALERT).length;
  return { total: closed.length, planned, falseAlerts, acted: closed.length - planned - falseAlerts };
}

/** What was watched of the span: days before the first scan make no average better. */
function watchedPeriod({ asked, watched }: Facts) {
  const [fromMs, toMs] = [asked.from.getTime(), asked.to.getTime()];
  const since = watched.since?.getTime() ?? fromMs;
  return { fromMs: since < toMs ? Math.max(fromMs, since) : fromMs, toMs };
}

export function performanceOf(facts: Facts): Performance {
  const { asked, alerts, now } = facts;
  const { chambers } = facts.watched;
  const period = watchedPeriod(facts);
  const byId = new Map(alerts.map((alert) => [alert.id, alert]));
  const ref = (id: string): AlertRef => refOf(byId.get(id) as AlertFact);
  const told = facts.calls.flatMap(({ alert, at, first }): (Annunciation & { first: boolean })[] => {
    const fact = byId.get(alert);
    if (!fact) return [];
    const { chamber, signature, priority } = fact;
    return [{ atMs: at.getTime(), alert, chamber, signature, priority, first }];
  });
  const calls = countedOnce(told, facts.groupOf);
  const floods = floodsOf(calls);
  const days = perDay(calls, period, facts.dayOf);
  const top = topOf(calls, TOP);
  const stood = stoodOf(alerts, facts.calls);
  const called = new Set(told.map(({ alert }) => alert));
  const chattering = chatteringOf(told);
  const fleeting = fleetingOf(stood.filter(({ alert }) => called.has(alert)));
  const stale = staleOf(stood, now.getTime());
  const closed = closedOf(facts);
  const inState = (state: AlertFact['state']) => alerts.filter((alert) => alert.state === state);
  return {
    from: iso(asked.from),
    to: iso(asked.to),
    area: asked.area,
    responder: asked.responder,
    days: (period.toMs - period.fromMs) / DAY_MS,
    chambers,
    annunciations: calls.length,
    measures: measuresOf({
      period,
      calls,
      floods,
      perDay: days.map(({ annunciations }) => annunciations),
      topShare: calls.length === 0 ? null : top.reduce((sum, { share }) => sum + share, 0),
      chattering: chattering.length,
      fleeting: fleeting.length,
      stale: stale.length,
      chambers,
      closed,
    }),
    perDay: days,
    floods: floods.map(({ fromMs, toMs, ...flood }) => ({
      from: iso(new Date(fromMs)),
      to: iso(new Date(toMs)),
      ...flood,
    })),
    top,
    chattering: chattering
      .slice(0, MOST_LISTED)
      .map(({ alert, times, withinMs }) => ({ alert: ref(alert), times, withinSeconds: withinMs / 1000 })),
    fleeting: fleeting
      .slice(0, MOST_LISTED)
      .map(({ alert, stoodMs }) => ({ alert: ref(alert), stoodSeconds: stoodMs / 1000 })),
    stale: stale
      .slice(0, MOST_LISTED)
      .map(({ alert, stoodMs }) => ({ alert: ref(alert), stoodHours: stoodMs / 3_600_000 })),
    priorities: PRIORITIES.map((priority) => {
      const n = calls.filter((call) => call.priority === priority).length;
      const share = calls.length === 0 ? null : n / calls.length;
      return { priority, annunciations: n, share, target: PRIORITY_TARGET[priority] };
    }),
    shelved: inState('shelved').map((fact) => ({
      alert: refOf(fact),
      until: isoOrNull(fact.shelvedUntil),
      reason: fact.shelvedReason ?? '',
      times: fact.shelvings,
    })),
    suppressed: inState('suppressed').map((fact) => ({
      alert: refOf(fact),
      since: isoOrNull(fact.suppressedSince),
      reason: fact.suppressedReason ?? '',
    })),
    outOfService: inState('out-of-service').map((fact) => ({
      alert: refOf(fact),
      until: isoOrNull(fact.outOfServiceUntil),
      reason: fact.outOfServiceReason ?? '',
      by: fact.outOfServiceBy ?? '',
    })),
    closed,
  };
}
