/**
 * One word and one sentence for a chamber on the round. Not knowing always wins over looking well: a chamber whose
 * last scan is old or doubtful is stale or blind, never at rest. An alert that is put away calls nobody, but is said.
 */
import type { Health, Priority } from '../contract/words.ts';
import { YOUNG_DAYS } from './parameters.ts';
import { judgeSilence, type SilenceVerdict } from './silence.ts';
import { ARMED_STATES } from './states.ts';
import type { DriftMark } from './types.ts';
import { capitalise, duration, list, times } from './wording.ts';

export interface OpenAlert {
  readonly signature: string;
  readonly priority: Priority;
  readonly state: string;
  readonly summary: string;
  /** The condition stands now; unknown counts as standing. */
  readonly active?: boolean;
  /** End of shelving or of the break of service; null: none, or by the state of the chamber. */
  readonly untilMs?: number | null;
  /** Why it is put away. */
  readonly reason?: string | null;
  /** It stands in every analyser of the chamber; unknown counts as so. */
  readonly inAll?: boolean;
}

export interface HealthInput {
  /** Every alert that is not over; shelved, suppressed and out-of-service ones ask for nobody. */
  readonly openAlerts: readonly OpenAlert[];
  readonly lastScanAtMs: number | null;
  readonly periodSeconds: number | null;
  readonly state: string | null;
  readonly stateSinceMs?: number | null;
  readonly learning: { readonly have: number; readonly need: number } | null;
  readonly strip: readonly DriftMark[];
  /** Why the newest scan may not be what it seems (doubt.ts); null: nothing speaks against it. */
  readonly doubt?: string | null;
  readonly nowMs: number;
  readonly retired: boolean;
  /** Since when nothing has needed a person: end of the last alert or of learning; unknown: null. */
  readonly restSinceMs?: number | null;
  /** When the watch began, while its bands are still wide (note `young-baseline`); null: it is not young. */
  readonly youngSinceMs?: number | null;
  /** What people call a gas (`water`); the formula when not given. */
  readonly gasName?: (gas: string) => string;
}

export interface HealthVerdict {
  readonly health: Health;
  readonly say: string;
}

const RANK: Record<Priority, number> = { high: 0, medium: 1, low: 2 };
const ASKING = new Set(['unacknowledged', 'acknowledged', 'returned-unacknowledged']);
/** While one of these stands, scans come and say nothing of the chamber, or not what they seem to. */
const BLINDING = new Set(['silent', 'frozen', 'detector-saturated', 'mass-shift']);

const byPriority = (a: OpenAlert, b: OpenAlert): number => RANK[a.priority] - RANK[b.priority];

export function judgeHealth(input: HealthInput): HealthVerdict {
  if (input.retired) return { health: 'unwatched', say: 'Retired: kept with its history, not watched.' };
  const silence = judgeSilence(input);
  const age = silence.ageSeconds === null ? null : duration(silence.ageSeconds);
  const asking = input.openAlerts.filter((alert) => ASKING.has(alert.state)).sort(byPriority);
  // Silence is said as blindness below; any other open alert speaks first, with the age of what it knows.
  const worst = asking.find((alert) => alert.signature !== 'silent');
  if (worst) {
    const old = silence.stale && age !== null ? ` No scan has come for ${age} since.` : '';
    return { health: 'attention', say: worst.summary + latched(worst) + old };
  }
  const putAway = input.openAlerts.filter((alert) => !ASKING.has(alert.state)).sort(byPriority);
  const verdict = judgeQuiet(input, { age, silence, asking, putAway });
  const [first] = putAway;
  if (!first || verdict.say.startsWith(first.summary)) return verdict;
  return { ...verdict, say: `${verdict.say} ${putAwaySaid(putAway, input.nowMs)}` };
}

/** Acknowledged, back to usual and still there: it latches. */
const latched = ({ state, active }: OpenAlert): string =>
  state === 'acknowledged' && active === false ? ' It is back to usual since, and waits to be reset.' : '';

interface Quiet {
  readonly age: string | null;
  readonly silence: SilenceVerdict;
  /** Nothing but a silence that is to be acknowledged. */
  readonly asking: readonly OpenAlert[];
  readonly putAway: readonly OpenAlert[];
}

/** A chamber in which no alert but silence asks for a person. */
function judgeQuiet(input: HealthInput, { age, silence, asking, putAway }: Quiet): HealthVerdict {
  if (age === null) return { health: 'blind', say: 'Nothing can be said: no scan has come yet.' };
  if (silence.silent)
    return { health: 'blind', say: `Nobody is watching this chamber: the last scan came ${age} ago.` };
  const state = input.state ?? 'base';
  if (!ARMED_STATES.has(state)) return { health: 'unwatched', say: unwatched(state, input) };
  const blinding = putAway.filter(
    (alert) => alert.active !== false && alert.inAll !== false && BLINDING.has(alert.signature),
  );
  if (blinding.length > 0) return { health: 'blind', say: inFull(blinding, putAway, input.nowMs) };
  if (silence.stale) return { health: 'stale', say: `The last scan came ${age} ago: what is shown may have changed.` };
  if (input.doubt) return { health: 'stale', say: input.doubt };
  if (asking.length > 0) return { health: 'attention', say: 'Scans have come back after a silence. Acknowledge it.' };
  if (input.learning) {
    const { have, need } = input.learning;
    return { health: 'learning', say: `Learning what is usual here: ${have} of ${need} scans.` };
  }
  const standing = putAway.filter((alert) => alert.active !== false);
  if (standing.length > 0) return { health: 'changed', say: inFull(standing, putAway, input.nowMs) };
  return changed(input) ?? { health: 'rest', say: rest(input) };
}

function how({ state, untilMs, reason }: OpenAlert, nowMs: number): string {
  const left = untilMs == null ? '' : ` for another ${duration((untilMs - nowMs) / 1000)}`;
  const why = reason ? ` (${reason})` : '';
  if (state === 'suppressed') return `suppressed by design${why}`;
  return `${state === 'out-of-service' ? 'out of service' : 'shelved'}${left}${why}`;
}

/** The first of these in full: its own summary, how it is put away, and how many more are. */
function inFull([worst]: readonly OpenAlert[], putAway: readonly OpenAlert[], nowMs: number): string {
  if (!worst) return '';
  const more = putAway.length === 1 ? '' : ` ${putAway.length - 1} more put away.`;
  return `${worst.summary} The alert is ${how(worst, nowMs)}.${more}`;
}

function putAwaySaid(putAway: readonly OpenAlert[], nowMs: number): string {
  const [first] = putAway as [OpenAlert];
  if (putAway.length === 1) return `One alert is ${how(first, nowMs)}.`;
  return `${putAway.length} alerts are put away, the first ${how(first, nowMs)}.`;
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

function rest({ restSinceMs, youngSinceMs, nowMs }: HealthInput): string {
  const ago = (sinceMs: number) => duration((nowMs - sinceMs) / 1000);
  const lasts = restSinceMs == null ? '' : ` for ${ago(restSinceMs)}`;
  const young =
    youngSinceMs == null
      ? ''
      : ` Watched for ${ago(youngSinceMs)} only: its bands are wide until about ${YOUNG_DAYS} days of its own quiet data have come in.`;
  return `At rest${lasts}. Nothing to do.${young}`;
}
