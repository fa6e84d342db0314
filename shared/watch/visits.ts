/** What the chamber's short states let in, seen against the spectrum of base. */
import { plain } from './channels.ts';
import type { Memory, Vector } from './memory.ts';

/** The largest spectrum of the short state, for what it lets in. */
export function rememberVisit(memory: Memory, q: Float64Array, masses: Vector): void {
  const before = memory.visit?.masses.length === masses.length ? memory.visit.highest : null;
  const highest = plain(q.map((x, m) => Math.max(Number.isFinite(x) ? x : 0, before?.[m] ?? 0)));
  memory.visit = { masses, highest };
}

/** Share of what was let in before that is still habit when the next state lets in less. */
const HABIT_SHARE = 0.7;

/** A short state is left: what it let in belongs to the habits of the chamber. */
export function rememberHabit(memory: Memory): void {
  const { visit, states } = memory;
  if (!visit) return;
  const before = states.habit?.masses.length === visit.masses.length ? states.habit.highest : null;
  const highest = visit.highest.map((x, m) => Math.max(x, HABIT_SHARE * (before?.[m] ?? 0)));
  memory.states = { ...states, habit: { masses: visit.masses, highest } };
}
