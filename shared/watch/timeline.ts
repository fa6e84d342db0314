/** Time and operating state: the scan period, the low-passed temperature, and what begins or ends with a state. */
import { median } from './channels.ts';
import { emptyTrack, type Memory } from './memory.ts';
import { HOUR, SKIP_SECONDS } from './parameters.ts';
import { GAS_STATES, SHORT_STATES } from './states.ts';
import { rememberHabit } from './visits.ts';

const GAPS_KEPT = 7;
/** States that wet the walls: a pump-down tail counts from their end. */
const VENTS = new Set(['vented', 'roughing']);

/** Seconds since the scan before; 0 for the first. */
export function advanceClock(memory: Memory, atMs: number): number {
  if (memory.lastAtMs === null) return 0;
  const seconds = (atMs - memory.lastAtMs) / 1000;
  memory.gaps = [...memory.gaps, seconds].slice(-GAPS_KEPT);
  memory.periodSeconds = median(memory.gaps);
  return seconds;
}

/** Walls follow the hall with about an hour's delay. */
export function followTemperature(memory: Memory, temperatureC: number | null, seconds: number): void {
  if (temperatureC === null || !Number.isFinite(temperatureC)) return;
  const before = memory.temperatureC ?? temperatureC;
  memory.temperatureC = before + (temperatureC - before) * Math.min(1, seconds / HOUR);
}

export function changeState(memory: Memory, state: string, atMs: number): void {
  if (GAS_STATES.has(state)) memory.gasSeen = true;
  if (state === memory.state) return;
  const left = memory.state;
  if (SHORT_STATES.has(left)) rememberHabit(memory);
  // A pump-down that nobody saw begin counts from its first scan, and goes on counting into base.
  if (VENTS.has(left) || VENTS.has(state) || state === 'pump-down') memory.ventEndedAtMs = atMs;
  memory.previousState = left;
  memory.state = state;
  memory.stateSinceMs = atMs;
  // A pump-down tail goes on underneath a short state and its own little tail.
  const { settling } = memory;
  if (settling && !(settling.short && !settling.under)) memory.carried = settling.short ? settling.under : settling;
  const short = SHORT_STATES.has(state);
  if (!short && !(state === 'base' && SHORT_STATES.has(left))) memory.carried = null;
  if (short) memory.visit = null;
  memory.settling = null;
  restartTrack(memory);
}

/** Another visit of the same state, without a pause between them. */
export function restartState(memory: Memory, atMs: number): void {
  memory.stateSinceMs = atMs;
  restartTrack(memory);
}

function restartTrack(memory: Memory): void {
  const { argon } = memory.track;
  memory.track = { ...emptyTrack(), argon: { ...argon, sinceMs: null, on: false, low: 0, amplitudes: [] } };
}

/** Nothing is judged in the first minutes of base after another state, nor in the first scans of any other. */
export function isEarly(memory: Memory, atMs: number): boolean {
  if (memory.previousState === null) return false;
  const since = (atMs - memory.stateSinceMs) / 1000;
  if (memory.state === 'base') return since < SKIP_SECONDS;
  return since < Math.max(0.3 * SKIP_SECONDS, 2 * (memory.periodSeconds ?? 60));
}
