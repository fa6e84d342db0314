/**
 * In gas-on and plasma what is usual depends on what is let in: every recipe (its gas and its level) has a baseline of its
 * own. The recipe is told at the beginning of a visit from the spectrum: one of those seen before, or a new one, which
 * learns first. The one in use is the state's baseline; the others are kept aside, the one longest unused leaves.
 */
import { isReady, newBaseline } from './baseline.ts';
import { measuredMasses } from './channels.ts';
import { likeness } from './likeness.ts';
import type { Baseline, Memory, Vector } from './memory.ts';
import { basePeak, patternsOf } from './patterns.ts';
import { isBorrowed } from './recognise.ts';
import { scanChannels } from './scanChannels.ts';
import type { Recipe } from './stateMemory.ts';
import type { WatchContext, WatchInput } from './types.ts';

const RECIPE_STATES: ReadonlySet<string> = new Set(['gas-on', 'plasma']);
/** With the one in use. */
const MOST_RECIPES = 6;
/** Same recipe: same direction, and a level within a third. Flows repeat within a few per cent; gains drift. */
const SAME_DIRECTION = 0.98;
const SAME_LEVEL = Math.log(1.35);
/** The same of one of its gases against all, where its largest peak is more than this share of the highest and stands clear of noise. */
const SAME_RATIO = Math.log(1.25);
const FLOW_SHARE = 0.003;
const FLOW_SIGMAS = 20;
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
 * later in the visit is judged against it: a contaminant is no other recipe. A new one begins in states that are sent:
 * in others a known one is told, or nothing is judged.
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
  const other = told && q !== null && current !== undefined && !isSame(step, current, q);
  const found = other ? states.recipes[state]?.find(({ baseline }) => isSame(step, baseline, q)) : undefined;
  const isTold = told && !(other && !found && isBorrowed(memory));
  memory.states = {
    ...states,
    telling: { sinceMs: stateSinceMs, scans: isTold ? TOLD : before.scans + 1, level },
  };
  if (isTold && other) exchange(step, current, found);
  return isTold;
}

function exchange({ memory, input }: RecipeStep, current: Baseline, found: Recipe | undefined): void {
  const { state, states } = memory;
  const { scan, peaks } = input;
  const aside = states.recipes[state] ?? [];
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

function isSame({ context }: RecipeStep, baseline: Baseline, q: Float64Array): boolean {
  const spectrum = spectrumOf(baseline);
  // Nothing learned yet: this is what it will learn.
  if (spectrum === null) return true;
  if (spectrum.length !== q.length) return false;
  const usual = spectrum.map((height) => Math.max(0, height));
  const { cosine, ratio } = likeness(q, usual);
  if (!(cosine > SAME_DIRECTION && Math.abs(Math.log(ratio)) < SAME_LEVEL)) return false;
  return hasSameFlows(context.chamber.gases, baseline, { usual, q, ratio });
}

/** Two flows may keep the direction of the larger one: each peak that a gas of the list makes there must have moved alike. */
function hasSameFlows(
  gases: readonly string[],
  { masses, variance }: Baseline,
  { usual, q, ratio }: { readonly usual: Vector; readonly q: Float64Array; readonly ratio: number },
): boolean {
  const top = Math.max(...usual.slice(1));
  return gases.every((gas) => {
    const pattern = patternsOf(gas, masses)?.variants[0];
    if (!pattern) return true;
    const base = pattern.indexOf(basePeak(pattern));
    const least = Math.max(FLOW_SHARE * top, FLOW_SIGMAS * Math.sqrt(variance[base] ?? 0));
    if (base < 1 || !(usual[base]! > least) || !Number.isFinite(q[base]!)) return true;
    return Math.abs(Math.log(Math.max(q[base]!, 0) / (usual[base]! * ratio))) < SAME_RATIO;
  });
}

function levelOf(q: ArrayLike<number>): number {
  let sum = 0;
  for (let m = 1; m < q.length; m++) if (q[m]! > 0) sum += q[m]!;
  return Math.max(sum, Number.MIN_VALUE);
}
