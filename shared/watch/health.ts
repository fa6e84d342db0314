/**
 * One word and one sentence for a chamber on the round. Not knowing always wins over looking well: a chamber whose
 * last scan is old is stale or blind, never at rest.
 */
import type { Health, Priority } from '../contract/words.ts';
import { judgeSilence } from './silence.ts';
import { ARMED_STATES } from './states.ts';
import type { DriftMark } from './types.ts';
import { capitalise, duration, list, times } from './wording.ts';

export interface HealthInput {
  /** Every alert that is not over; shelved, suppressed and out-of-service ones ask for nobody. */
  readonly openAlerts: readonly {
    readonly signature: string;
    readonly priority: Priority;
    readonly state: string;
    readonly summary: string;
  }[];
  readonly lastScanAtMs: number | null;
  readonly periodSeconds: number | null;
  readonly state: string | null;
  readonly stateSinceMs?: number | null;
  readonly learning: { readonly have: number; readonly need: number } | null;
  readonly strip: readonly DriftMark[];
  readonly nowMs: number;
  readonly retired: boolean;
  /** Since when nothing has needed a person: end of the last alert or of learning; unknown: null. */
  readonly restSinceMs?: number | null;
  /** What people call a gas (`water`); the formula when not given. */
  readonly gasName?: (gas: string) => string;
}

export interface HealthVerdict {
  readonly health: Health;
  readonly say: string;
}

const RANK: Record<Priority, number> = { high: 0, medium: 1, low: 2 };
const ASKING = new Set(['unacknowledged', 'acknowledged', 'returned-unacknowledged']);

export function judgeHealth(input: HealthInput): HealthVerdict {
  if (input.retired) return { health: 'unwatched', say: 'Retired: kept with its history, not watched.' };
  const silence = judgeSilence(input);
  const age = silence.ageSeconds === null ? null : duration(silence.ageSeconds);
  const asking = input.openAlerts
    .filter((alert) => ASKING.has(alert.state))
    .sort((a, b) => RANK[a.priority] - RANK[b.priority]);
  // Silence is said as blindness below; any other open alert speaks first, with the age of what it knows.
  const worst = asking.find((alert) => alert.signature !== 'silent');
  if (worst) {
    const old = silence.stale && age !== null ? ` No scan has come for ${age} since.` : '';
    return { health: 'attention', say: worst.summary + old };
  }
  if (age === null) return { health: 'blind', say: 'Nothing can be said: no scan has come yet.' };
  if (silence.silent)
    return { health: 'blind', say: `Nobody is watching this chamber: the last scan came ${age} ago.` };
  const state = input.state ?? 'base';
  if (!ARMED_STATES.has(state)) return { health: 'unwatched', say: unwatched(state, input) };
  if (silence.stale) return { health: 'stale', say: `The last scan came ${age} ago: what is shown may have changed.` };
  if (asking.length > 0) return { health: 'attention', say: 'Scans have come back after a silence. Acknowledge it.' };
  if (input.learning) {
    const { have, need } = input.learning;
    return { health: 'learning', say: `Learning what is usual here: ${have} of ${need} scans.` };
  }
  return changed(input) ?? { health: 'rest', say: rest(input) };
}

function unwatched(state: string, { stateSinceMs, nowMs }: HealthInput): string {
  const since = stateSinceMs == null ? '' : ` for ${duration((nowMs - stateSinceMs) / 1000)}`;
  return `${STATE_SAID[state] ?? capitalise(state)}${since}: not watched.`;
}

const STATE_SAID: Record<string, string> = {
  vented: 'Vented',
  roughing: 'Being roughed',
  'pump-down': 'Pumping down',
  bake: 'Baking',
  regenerating: 'Regenerating',
  activating: 'Activating',
  calibration: 'Being calibrated',
  maintenance: 'Under maintenance',
};

function changed({ strip, gasName = (gas) => gas }: HealthInput): HealthVerdict | null {
  const out = strip.filter(
    (mark) => mark.status === 'measured' && Math.abs(mark.decades ?? 0) > (mark.halfWidth ?? Number.POSITIVE_INFINITY),
  );
  if (out.length === 0) return null;
  const far = [...out].sort((a, b) => Math.abs(b.decades ?? 0) - Math.abs(a.decades ?? 0)).slice(0, 3);
  const said = far.map(({ gas, decades }) => {
    const factor = 10 ** Math.abs(decades ?? 0);
    return (decades ?? 0) > 0
      ? `${gasName(gas)} ${times(factor)} the usual`
      : `${gasName(gas)} ${times(factor)} below the usual`;
  });
  return { health: 'changed', say: `${capitalise(list(said))}. Nothing to do.` };
}

function rest({ restSinceMs, nowMs }: HealthInput): string {
  if (restSinceMs == null) return 'At rest. Nothing to do.';
  return `At rest for ${duration((nowMs - restSinceMs) / 1000)}. Nothing to do.`;
}
