/**
 * In gas-on and plasma what is usual depends on what is let in: every recipe (its gas and its level) has a baseline of its
 * own. The recipe is told at the beginning of a visit from the spectrum: one of those seen before, or a new one, which
 * learns first. The one in use is the state's baseline; the others are kept aside, the one longest unused leaves.
 */
import { isReady, newBaseline } from './baseline.ts';
import { measuredMasses } from './channels.ts';
import type { Baseline, Memory, Vector } from './memory.ts';
import { scanChannels } from './scanChannels.ts';
import type { Recipe } from './stateMemory.ts';
import type { WatchContext, WatchInput } from './types.ts';

const RECIPE_STATES: ReadonlySet<string> = new Set(['gas-on', 'plasma']);
/** With the one in use. */
const MOST_RECIPES = 6;
/** Same recipe: same direction, and a level within a third. Flows repeat within a few per cent; gains drift. */
const SAME_DIRECTION = 0.98;
const SAME_LEVEL = Math.log(1.35);
/** Two scans in a row that differ by less, some time after the state began, are no opening valve. */
const STEADY = Math.log(1.1);
const LEAST_SECONDS = 30;
/** A flow that never stands is told after this. */
const MOST_WAITING = 10;
const MOST_SECONDS = 300;
const TOLD = -1;

export interface RecipeStep {
  readonly memory: Memory;
  readonly context: WatchContext;
  readonly input: WatchInput;
}

/**
 * Puts the baseline of the recipe in use into its place, once a visit; false while that cannot be told yet. What comes
 * later in the visit is judged against it: a contaminant is no other recipe.
 */
export function tellRecipe(step: RecipeStep): boolean {
  const { memory, context, input } = step;
  const { state, stateSinceMs, states } = memory;
  if (!RECIPE_STATES.has(state)) return true;
  const before =
    states.telling.sinceMs === stateSinceMs ? states.telling : { sinceMs: stateSinceMs, scans: 0, level: null };
  if (before.scans === TOLD) return true;
  const current = memory.baselines[state];
  const q = current ? scanChannels(context.calibration, input, current.masses) : null;
  const level = q && levelOf(q);
  const steady = level !== null && before.level !== null && Math.abs(Math.log(level / before.level)) < STEADY;
  const seconds = (input.scan.atMs - stateSinceMs) / 1000;
  const waited = before.scans >= MOST_WAITING && seconds >= MOST_SECONDS;
  const told = q === null || (steady && seconds >= LEAST_SECONDS) || waited;
  const telling = { sinceMs: stateSinceMs, scans: told ? TOLD : before.scans + 1, level };
  memory.states = { ...states, telling };
  if (told && q && current && !isSame(current, q)) exchange(step, current, q);
  return told;
}

function exchange({ memory, input }: RecipeStep, current: Baseline, q: Float64Array): void {
  const { state, states } = memory;
  const { scan, peaks } = input;
  const aside = states.recipes[state] ?? [];
  const found = aside.find(({ baseline }) => isSame(baseline, q));
  const left: Recipe = { baseline: current, usedAtMs: scan.atMs };
  const kept = [left, ...aside.filter((recipe) => recipe !== found)]
    .sort((a, b) => b.usedAtMs - a.usedAtMs)
    .slice(0, MOST_RECIPES - 1);
  const start = () =>
    newBaseline({ masses: measuredMasses(peaks), scaled: peaks.scaled, detector: scan.detector, atMs: scan.atMs });
  memory.baselines[state] = found ? structuredClone(found.baseline) : start();
  memory.states = { ...memory.states, recipes: { ...states.recipes, [state]: kept } };
}

/** Null while nothing was seen of it. */
function spectrumOf(baseline: Baseline): Vector | null {
  return isReady(baseline) ? baseline.mean : (baseline.first?.at(-1) ?? null);
}

function isSame(baseline: Baseline, q: Float64Array): boolean {
  const spectrum = spectrumOf(baseline);
  // Nothing learned yet: this is what it will learn.
  if (spectrum === null) return true;
  if (spectrum.length !== q.length) return false;
  let [product, own, seen] = [0, 0, 0];
  for (let m = 1; m < q.length; m++) {
    if (!Number.isFinite(q[m]!)) continue;
    const usual = Math.max(0, spectrum[m]!);
    product += usual * q[m]!;
    own += usual * usual;
    seen += q[m]! * q[m]!;
  }
  if (!(own > 0 && seen > 0)) return false;
  const level = 0.5 * Math.log(seen / own);
  return product / Math.sqrt(own * seen) > SAME_DIRECTION && Math.abs(level) < SAME_LEVEL;
}

function levelOf(q: ArrayLike<number>): number {
  let sum = 0;
  for (let m = 1; m < q.length; m++) if (q[m]! > 0) sum += q[m]!;
  return Math.max(sum, Number.MIN_VALUE);
}
