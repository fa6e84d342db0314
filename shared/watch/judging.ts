/**
 * What follows from the kept baseline: causes, watched directions, and the whiteners of the lanes, each made when it is
 * first asked for. A pure function of what is kept, so a memory that has gone through JSON is judged alike.
 */
import type { Cause } from './cause.ts';
import { fallsOf } from './falls.ts';
import { baselineOf, type Kept, standingOf } from './kept.ts';
import type { Baseline, Memory } from './memory.ts';
import { type Lane, type NullInput, nullModel } from './nullModel.ts';
import { type OwnCause, ownCauses } from './ownCauses.ts';
import { spectraOfKept } from './ownGases.ts';
import { type Reference, warmed } from './reference.ts';
import { backgroundTotal, type Trigger, triggersOf } from './triggers.ts';
import { makeWhitener, type Whitener } from './whitening.ts';

export interface Judging {
  readonly gasCauses: readonly Cause[];
  readonly ownCauses: readonly OwnCause[];
  readonly triggers: readonly Trigger[];
  /** For rises of a gas (`change`: gases that have clearly fallen in it are free) or for causes that make all fall. */
  whitener(lane: Lane, change: Float64Array | null): Whitener;
}

export interface JudgingInput {
  readonly memory: Memory;
  readonly baseline: Baseline;
  readonly kept: Kept;
  readonly gasCauses: readonly Cause[];
}

const known = new WeakMap<Kept, Judging>();

export function judgingOf(input: JudgingInput): Judging {
  const before = known.get(input.kept);
  if (before?.gasCauses === input.gasCauses) return before;
  const made = make(input);
  known.set(input.kept, made);
  return made;
}

function make({ memory, baseline: live, kept, gasCauses }: JudgingInput): Judging {
  const baseline = baselineOf(kept, live);
  const spectra = spectraOfKept(kept, baseline.masses);
  const spectrum = warmed(baseline.mean, baseline, spectra, kept.temperatureC).slice();
  const reference: Reference = { spectrum, lifted: null, tail: null, doubt: null, spectra };
  const then: Memory = {
    ...memory,
    settling: null,
    temperatureC: kept.temperatureC,
    periodSeconds: kept.periodSeconds,
    standing: standingOf(kept, memory),
  };
  const owns = ownCauses(baseline, reference, kept.followed);
  return {
    gasCauses,
    ownCauses: owns,
    triggers: triggersOf(gasCauses, owns, baseline, reference, backgroundTotal(memory, baseline)),
    whitener: whiteners({ memory: then, baseline, reference, atMs: kept.atMs }),
  };
}

/** Of the models in which gases have fallen, the latest are kept: steps of a fall come and go. */
const MOST_FALLEN = 12;

/** Whiteners of one null model by lane, and by what has fallen; the plain one where nothing has. */
export function whiteners(input: Omit<NullInput, 'lane'>): Judging['whitener'] {
  const made = new Map<string, Whitener>();
  const weights = new Map<Lane, readonly number[]>();
  return (lane, change) => {
    let plain = made.get(lane);
    if (!plain) {
      const model = nullModel({ ...input, lane });
      plain = makeWhitener(model.variance, model.columns);
      made.set(lane, plain);
      weights.set(lane, model.weights);
    }
    const falls = change && fallsOf({ ...input, lane }, weights.get(lane)!, change);
    if (!falls) return plain;
    const key = `${lane} ${falls.map((fall) => fall.toPrecision(6)).join()}`;
    let freed = made.get(key);
    if (!freed) {
      const model = nullModel({ ...input, lane, falls });
      freed = makeWhitener(model.variance, model.columns);
      if (made.size > MOST_FALLEN + weights.size)
        for (const old of made.keys()) if (!weights.has(old as Lane)) made.delete(old);
      made.set(key, freed);
    }
    return freed;
  };
}
