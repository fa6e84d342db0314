/**
 * Which two stretches of a chamber are like enough to say what a repair did: the alert's last time in a state before the
 * chamber was opened, and the newest time in the same state as long after the vent as the first one was. While an alert
 * stands and nothing was opened since, what it changed: the last quiet time before it, and the newest (sinceAlert.ts).
 */
import { sinceAlert } from './sinceAlert.ts';
import { type Stretch, stateOf, type TimeSpan, type Vent, ventsOf, within } from './stretches.ts';

export interface AlertSpan {
  readonly raisedMs: number;
  /** When its condition had gone; null: it still stands. */
  readonly endedMs: number | null;
}

export interface ChoiceQuestion {
  readonly stretches: readonly Stretch[];
  /** The fault that was repaired; null: the last vent is what lies between. */
  readonly alert: AlertSpan | null;
  /** Newest scan. */
  readonly newestMs: number;
  /** When other alerts about the same gases stood: such a time is not quiet. */
  readonly loud?: readonly TimeSpan[];
  /** Between scans; null or missing: not known. */
  readonly scanSeconds?: number | null;
}

export interface SideChoice {
  /** `since alert`: it stands and nothing was opened since, so there is no repair to look at yet. */
  readonly purpose: 'repair' | 'since alert';
  readonly state: string | null;
  /** Null: there is no such time. */
  readonly before: TimeSpan | null;
  readonly after: TimeSpan | null;
  /** From the first vent between the sides to the end of the last; null: none lies between. */
  readonly between: Vent | null;
  /** Where the sides are not as long after their vents: when they will be; null: they are, or never will be. */
  readonly equalAtMs: number | null;
}

/** Four hours of a scan a minute are 240 scans; a chamber that dries changes little within them. */
const LONGEST_MS = 4 * 3_600_000;

/** The last time in these stretches that ends no later than asked. */
function lastOf(stretches: readonly Stretch[], notAfterMs: number): TimeSpan | null {
  const found = stretches.findLast(({ fromMs }) => fromMs < notAfterMs);
  if (found === undefined) return null;
  const toMs = Math.min(found.toMs, notAfterMs);
  return { fromMs: Math.max(found.fromMs, toMs - LONGEST_MS), toMs };
}

/** Two spans, both cut to the shorter one at their ends. */
function equallyLong(before: TimeSpan, after: TimeSpan): { before: TimeSpan; after: TimeSpan } {
  const length = Math.min(before.toMs - before.fromMs, after.toMs - after.fromMs);
  const cut = ({ toMs }: TimeSpan) => ({ fromMs: toMs - length, toMs });
  return { before: cut(before), after: cut(after) };
}

function around({ stretches, alert, newestMs }: ChoiceQuestion): {
  before: TimeSpan;
  after: TimeSpan | null;
  between: Vent | null;
} {
  const vents = ventsOf(stretches);
  const start = stretches[0]?.fromMs ?? newestMs;
  if (alert === null) {
    const last = vents.at(-1);
    const earlier = vents.at(-2)?.pumpedMs ?? start;
    return last === undefined
      ? { before: { fromMs: start, toMs: newestMs }, after: null, between: null }
      : {
          before: { fromMs: earlier, toMs: last.fromMs },
          after: { fromMs: last.pumpedMs, toMs: newestMs },
          between: last,
        };
  }
  const later = vents.filter(({ pumpedMs }) => pumpedMs > alert.raisedMs);
  const [first, last] = [later[0], later.at(-1)];
  if (first !== undefined && last !== undefined)
    return {
      before: { fromMs: alert.raisedMs, toMs: first.fromMs },
      after: { fromMs: last.pumpedMs, toMs: newestMs },
      between: { fromMs: first.fromMs, pumpedMs: last.pumpedMs },
    };
  const ended = alert.endedMs ?? newestMs;
  return {
    before: { fromMs: alert.raisedMs, toMs: ended },
    after: { fromMs: ended, toMs: newestMs },
    between: null,
  };
}

const isOpen = ({ alert, stretches }: ChoiceQuestion): boolean =>
  alert !== null && alert.endedMs === null && !ventsOf(stretches).some(({ pumpedMs }) => pumpedMs > alert.raisedMs);

export function chooseSides(question: ChoiceQuestion): SideChoice {
  const { stretches, alert, newestMs, loud = [], scanSeconds = null } = question;
  if (alert !== null && isOpen(question))
    return {
      purpose: 'since alert',
      ...sinceAlert({ stretches, raisedMs: alert.raisedMs, newestMs, loud, scanSeconds }),
      equalAtMs: null,
    };
  const spans = around(question);
  const [allBefore, allAfter] = [within(stretches, spans.before), spans.after ? within(stretches, spans.after) : []];
  const state = stateOf(allBefore, allAfter);
  const inState = (all: readonly Stretch[]) => all.filter((one) => one.state === state);
  const [ofBefore, ofAfter] = [inState(allBefore), inState(allAfter)];
  const { between } = spans;
  const [before, after] = [lastOf(ofBefore, Number.POSITIVE_INFINITY), lastOf(ofAfter, Number.POSITIVE_INFINITY)];
  const plain = { purpose: 'repair' as const, state, before, after, between, equalAtMs: null };
  const vented = ventsOf(stretches).findLast(({ pumpedMs }) => pumpedMs < (before?.toMs ?? 0))?.pumpedMs ?? null;
  if (before === null || after === null) return plain;
  if (between === null || vented === null) return { ...plain, ...equallyLong(before, after) };
  // As long after the vent as both have come.
  const reachedMs = Math.min(before.toMs - vented, after.toMs - between.pumpedMs);
  const early = lastOf(ofBefore, vented + reachedMs);
  const late = lastOf(ofAfter, between.pumpedMs + reachedMs);
  if (early !== null && late !== null) return { ...plain, ...equallyLong(early, late) };
  const [first = before] = ofBefore;
  const equalAtMs = between.pumpedMs + Math.min(first.toMs, first.fromMs + LONGEST_MS) - vented;
  return { ...plain, ...equallyLong(before, after), equalAtMs };
}
