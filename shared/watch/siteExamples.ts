/**
 * What the watch would name a closed case had it never seen it: the case alone competes, among the catalogue's causes and
 * the site's other cases. Right in most of them is what makes verified cases worth keeping.
 */
import type { Signature } from '../contract/words.ts';
import { newBaseline } from './baseline.ts';
import type { Cause } from './cause.ts';
import { causesOf } from './causes.ts';
import { faultOf } from './exampleVariants.ts';
import { leftShare, NOISE_TOLERANCE, POOR_SHARE } from './explained.ts';
import { emptyMemory, type Vector } from './memory.ts';
import { type Candidate, nameChange } from './naming.ts';
import { ownCauses } from './ownCauses.ts';
import { shareOut } from './ownGases.ts';
import { gaugeFactor } from './patterns.ts';
import { referenceNow } from './reference.ts';
import { surenessOf } from './sureness.ts';
import { isOwn } from './triggers.ts';
import type { Finding, SiteExample, WatchContext } from './types.ts';

/** A closed case as it is kept: the example, and what was usual on its masses where that is known. */
export interface ClosedCase extends SiteExample {
  /** N2-equivalent Pa per mass of the list. Without it causes that move everything cannot compete. */
  readonly usualPa?: readonly number[];
}

export interface ExampleNaming {
  /** The case's own signature came first. */
  readonly right: boolean;
  readonly rightInTwo: boolean;
  /**
   * Best first, one entry per signature; empty when nothing competes. `unexplained-peaks` leads, with odds of 0, when no
   * cause accounts for the change; the causes behind it are what came nearest.
   */
  readonly names: readonly {
    readonly signature: Signature;
    readonly gases: readonly string[];
    readonly odds: number;
  }[];
  readonly sureness: Finding['sureness'];
}

export interface ExampleSettings {
  readonly chamber: WatchContext['chamber'];
  /** May hold the case itself: it is left out by its id. */
  readonly others?: readonly SiteExample[];
}

/** A case is kept with the change that it showed within hours: most of what breathes had no time to. */
const BREATHING = 0.5;
/** What the baseline of an old chamber is worth, scans. */
const BASELINE_SCANS = 1000;
/** A gauge repeats within 1.2 %. */
const GAUGE_REPEATS = 0.012;

/** @throws RangeError naming the field when the case's lists do not fit each other. */
export function nameExample(example: ClosedCase, { chamber, others = [] }: ExampleSettings): ExampleNaming {
  const fault = faultOf(example) ?? usualFault(example);
  if (fault) throw new RangeError(`example ${example.id}: ${fault}`);
  const memory = emptyMemory('', 'base', 0);
  const baseline = baselineOf(example);
  const reference = referenceNow(memory, baseline, 0);
  const gasCauses: Cause[] = causesOf({ chamber }, baseline.masses);
  const change = Float64Array.from([example.gaugeChangePa ?? 0, ...example.changePa]);
  const { candidates } = nameChange(
    {
      memory,
      baseline,
      reference,
      atMs: 0,
      gasCauses,
      ownCauses: example.usualPa ? ownCauses(baseline, reference) : [],
      examples: others.filter(({ id }) => id !== example.id),
    },
    change,
    { lane: 'scan', breathing: BREATHING },
  );
  const best = bySignature(candidates);
  const isExplained = candidates.slice(0, ASKED).some((candidate) => accountsFor(example, change, candidate));
  const names = isExplained || best.length === 0 ? best : [UNEXPLAINED, ...best];
  return {
    right: names[0]?.signature === example.signature,
    rightInTwo: names.slice(0, 2).some(({ signature }) => signature === example.signature),
    names,
    sureness: surenessOf(names[0]?.odds ?? 0),
  };
}

/** As the watch asks the best few before it raises one. */
const ASKED = 4;
const UNEXPLAINED = { signature: 'unexplained-peaks', gases: [], odds: 0 } as const;

function accountsFor({ masses, sigmaPa, usualPa }: ClosedCase, change: Float64Array, candidate: Candidate): boolean {
  // Its own gases move in their own proportions: surface ions and the foot take no part in that.
  if (isOwn(candidate.cause)) return true;
  const tolerance = masses.map((mass, i) =>
    mass === 1 ? Number.POSITIVE_INFINITY : NOISE_TOLERANCE * sigmaPa[i]! + 0.05 * Math.abs(usualPa?.[i] ?? 0),
  );
  const explained = candidate.direction.map((value) => value * candidate.amplitude);
  return leftShare(change, explained, Float64Array.from([0, ...tolerance])) <= POOR_SHARE;
}

function usualFault({ masses, usualPa }: ClosedCase): string | null {
  if (usualPa === undefined) return null;
  if (usualPa.length !== masses.length) return `usualPa: ${usualPa.length} values for ${masses.length} masses`;
  return usualPa.every(Number.isFinite) ? null : 'usualPa: must be finite';
}

function baselineOf({ masses, sigmaPa, usualPa, gaugeChangePa }: ClosedCase) {
  const list: Vector = [...masses];
  const baseline = newBaseline({ masses: list, scaled: true, detector: null, atMs: 0 });
  const spectrum = usualPa ?? masses.map(() => 0);
  baseline.first = null;
  baseline.scans = BASELINE_SCANS;
  baseline.mean = [0, ...spectrum];
  baseline.variance = [0, ...sigmaPa.map((sigma) => sigma ** 2)];
  shareOut(baseline);
  if (gaugeChangePa === null) return baseline;
  // The gauge that such a spectrum would show: its own factor is one.
  const gauge = baseline.own.reduce((sum, { gas, pressurePa }) => sum + gaugeFactor(gas) * pressurePa, 0);
  baseline.hasGauge = gauge > 0;
  baseline.mean = [gauge, ...spectrum];
  baseline.variance = [(GAUGE_REPEATS * gauge) ** 2, ...sigmaPa.map((sigma) => sigma ** 2)];
  baseline.kappa = 1;
  return baseline;
}

function bySignature(candidates: ReturnType<typeof nameChange>['candidates']): ExampleNaming['names'] {
  const names = new Map<Signature, { signature: Signature; gases: readonly string[]; odds: number }>();
  for (const { cause, variant, odds } of candidates) {
    const { signature } = cause;
    const known = names.get(signature);
    if (known) known.odds += odds;
    else names.set(signature, { signature, gases: variant.gases ?? cause.gases, odds });
  }
  return [...names.values()].sort((a, b) => b.odds - a.odds);
}
