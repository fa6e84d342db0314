/**
 * Naming: all causes compete for the change that was seen, by penalised likelihood.
 *
 *   score = max_a −½ [ (Δ − a d)ᵀ (Σ + E)⁻¹ (Δ − a d) + ln|Σ + E| ] + ln prior,   E = diag((ρ a d_m)²)
 *
 * E is the error of the pattern itself: a peak of this instrument may differ from the catalogue by ρ. The determinant
 * charges for that freedom, so a cause that needs many loose peaks loses to one that needs few. Amplitudes are
 * refitted three times because E depends on them (iteratively reweighted least squares).
 */
import type { Cause, Variant } from './cause.ts';
import { withExamples } from './exampleVariants.ts';
import type { Frame } from './frame.ts';
import { loosened } from './looseGases.ts';
import { type Lane, type NullModel, nullModel } from './nullModel.ts';
import { allowOmitted } from './omitted.ts';
import type { OwnCause } from './ownCauses.ts';
import { PATTERN_ERROR, TEMPER } from './parameters.ts';
import { basePeak, OMITTED_SHARE, peakErrors } from './patterns.ts';
import { scaledBy } from './rows.ts';
import { GAS_STATES } from './states.ts';
import { isOwn, onChamber } from './triggers.ts';
import type { SiteExample } from './types.ts';
import { along, type Direction, direction, dot, makeWhitener } from './whitening.ts';

const PASSES = 3;

export interface Candidate {
  readonly cause: Cause | OwnCause;
  readonly variant: Variant;
  /** Place of the variant among those of its cause. */
  readonly shape: number;
  /** On this chamber. */
  readonly direction: Float64Array;
  readonly amplitude: number;
  readonly score: number;
  /** (Δ − a d)ᵀ(Σ + E)⁻¹(Δ − a d) */
  readonly misfit: number;
  /** Tempered odds among all candidates. */
  readonly odds: number;
}

export interface Naming {
  readonly candidates: readonly Candidate[];
  /** Score and misfit of "nothing has happened". */
  readonly nothing: number;
  readonly change: number;
}

interface Hypothesis {
  readonly cause: Cause | OwnCause;
  readonly variants: readonly Variant[];
  /** Null: the errors of a gas's pattern. */
  readonly spread: number | null;
  /** How far single gases may stay behind a movement of all. */
  readonly loose: number;
}

export interface NamingQuestion {
  readonly lane: Lane;
  /** The question is what has made everything fall. */
  readonly fall?: boolean;
  /** Share of the usual breathing of gases, pumping, temperature and gain that the change can hold; 1 when not given. */
  readonly breathing?: number;
}

/** What a naming rests on. */
export type NamingGround = Pick<Frame, 'memory' | 'baseline' | 'reference' | 'atMs' | 'gasCauses' | 'ownCauses'> & {
  readonly examples?: readonly SiteExample[] | undefined;
};

export function nameChange(
  frame: NamingGround,
  change: Float64Array,
  { lane, fall = false, breathing = 1 }: NamingQuestion,
): Naming {
  const { memory, baseline, reference, atMs } = frame;
  const model = calmed(nullModel({ memory, baseline, reference, lane, atMs, ...(!fall && { change }) }), breathing);
  allowTail(model.variance, reference.doubt);
  allowBelowZero(model.variance, reference.spectrum, change);
  const base = makeWhitener(model.variance, model.columns);
  const misfit = dot(change, base.apply(change));
  const letIn = GAS_STATES.has(memory.state) ? reference.spectrum : null;
  const found: Omit<Candidate, 'odds'>[] = [];
  for (const hypothesis of hypotheses(frame)) {
    let best: Omit<Candidate, 'odds'> | null = null;
    for (const [shape, variant] of hypothesis.variants.entries()) {
      const seen = { change, whitened: base.apply(variant.dense), letIn };
      const fit = fitVariant(variant, hypothesis, model, seen);
      if (!fit) continue;
      const score = fit.score + variant.prior + hypothesis.cause.prior;
      if (!best || score > best.score) {
        best = {
          cause: hypothesis.cause,
          variant,
          shape,
          direction: variant.dense,
          amplitude: fit.amplitude,
          score,
          misfit: fit.misfit,
        };
      }
    }
    if (best) found.push(best);
  }
  return { candidates: withOdds(found), nothing: -0.5 * (misfit + base.logDeterminant), change: misfit };
}

/**
 * What was granted to a tail may be the fault itself: a leak born at a vent hides its nitrogen there. A cause may ask for
 * as much of a channel as its tail holds (evenly spread over it: one sigma is 1/√3), but a tail is evidence of nothing.
 */
function allowTail(variance: Float64Array, doubt: Float64Array | null): void {
  if (!doubt) return;
  for (let m = 0; m < variance.length; m++) variance[m]! += Math.max(0, doubt[m]!) ** 2 / 3;
}

/**
 * No gas is below zero: there a neighbour's foot has been taken off, as beside a high peak of a profile, and no cause is
 * judged by how much.
 */
function allowBelowZero(variance: Float64Array, usual: Float64Array, change: Float64Array): void {
  for (let m = 1; m < variance.length; m++) variance[m]! += Math.min(0, usual[m]! + change[m]!) ** 2;
}

/** Best first, with the odds of each among all. Sorts in place. */
export function withOdds(found: Omit<Candidate, 'odds'>[]): Candidate[] {
  found.sort((a, b) => b.score - a.score);
  const top = found[0]?.score ?? 0;
  const weights = found.map(({ score }) => Math.exp(TEMPER * (score - top)));
  // One signature may stand for several causes (every line gas is a gas-inleak): odds are of the cause.
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return found.map((candidate, i) => ({ ...candidate, odds: weights[i]! / total }));
}

function hypotheses({ gasCauses, ownCauses, baseline, reference, examples }: NamingGround): Hypothesis[] {
  const { spectra } = reference;
  const own = (gas: string) => spectra.find((spectrum) => spectrum.own.gas === gas && spectrum.own.clarity > 30);
  const gases = withExamples(gasCauses, examples, baseline.masses).map((cause): Hypothesis => {
    const records = cause.variants.filter(({ example }) => example === undefined).length;
    const variants = cause.variants.map((variant) => ({
      ...variant,
      dense: onChamber(variant.dense, records === 1 && !variant.example ? cause.single : null, baseline, spectra),
    }));
    // What this chamber has shown of the gas is one more variant, and the likeliest.
    for (const gas of cause.id === 'COx' ? ['CO', 'CO2'] : cause.single && records > 1 ? [cause.single] : []) {
      const seen = own(gas);
      if (seen)
        variants.unshift({
          dense: onChamber(cause.variants[0]!.dense, gas, baseline, spectra),
          prior: 0,
          gases: [gas],
        });
    }
    return { cause, variants, spread: null, loose: 0 };
  });
  return [
    ...gases,
    ...ownCauses.map((cause) => ({ cause, variants: cause.variants, spread: cause.spread, loose: cause.loose })),
  ];
}

/** Columns that follow those of the gases: all together, by temperature, and the gain. */
const COMMON_COLUMNS = 3;
const THERMAL_COLUMN = 1;

/**
 * The same model for a change that is younger than what breathes. Walls follow a hall smoothly, so that what their
 * temperature does in a short time goes with the time and not with its root.
 */
export function calmed(model: NullModel, breathing: number): NullModel {
  if (breathing === 1) return model;
  const { columns, gases, weights } = model;
  const share = (i: number) => {
    if (i >= gases + COMMON_COLUMNS) return 1;
    return i === gases + THERMAL_COLUMN ? breathing ** 2 : breathing;
  };
  return {
    ...model,
    columns: columns.map((column, i) => (share(i) === 1 ? column : scaledBy(column, share(i)))),
    weights: weights.map((weight) => weight * breathing),
  };
}

interface Seen {
  readonly change: Float64Array;
  /** The variant, whitened by the model without its errors. */
  readonly whitened: Float64Array;
  /** What is usual, where the state lets gas in; null: it does not. */
  readonly letIn: Float64Array | null;
}

function fitVariant(
  variant: Variant,
  { spread, loose }: Hypothesis,
  model: NullModel,
  { change, whitened, letIn }: Seen,
): { amplitude: number; score: number; misfit: number } | null {
  const d: Direction = direction(variant.dense);
  const error = variant.errors ?? errorsOf(variant, spread);
  let amplitude = dot(whitened, change) / Math.max(along(d, whitened), 1e-300);
  if (!(amplitude > 0)) return null;
  let best: { amplitude: number; score: number; misfit: number } | null = null;
  const rest = new Float64Array(change.length);
  const omitted = new Float64Array(change.length);
  const base = omits(variant, spread, loose) ? basePeak(variant.dense) : 0;
  for (let pass = 0; pass < PASSES; pass++) {
    const variance = model.variance.slice();
    for (let m = 0; m < variance.length; m++) variance[m]! += (amplitude * error[m]!) ** 2 + omitted[m]!;
    const whitener = makeWhitener(variance, loosened(model, loose * amplitude, variant));
    const w = whitener.apply(variant.dense);
    const next = dot(w, change) / Math.max(along(d, w), 1e-300);
    if (!(next > 0)) break;
    for (let m = 0; m < rest.length; m++) rest[m] = change[m]! - next * d.dense[m]!;
    const misfit = dot(rest, whitener.apply(rest));
    const asked = { dense: d.dense, isOwn: spread !== null, amplitude: next, letIn };
    allowOmitted(omitted, { rest, variance, ...asked }, OMITTED_SHARE * next * base);
    const score = -0.5 * (misfit + whitener.logDeterminant);
    if (!best || score > best.score) best = { amplitude: next, score, misfit };
    amplitude = next;
  }
  return best;
}

/** A record leaves small peaks out; and so does the background of a chamber, shared out among the gases that are seen in it. */
const omits = ({ errors }: Variant, spread: number | null, loose: number): boolean =>
  spread === null ? errors === undefined : loose > 0;

/**
 * Between two variants of how much argon air shows lies a factor of 1.5: a fifth either way. With the freedom of a small
 * peak air would be as good a name for nitrogen alone, and for argon alone beside a little nitrogen by chance.
 */
const FIRM_ERROR = 0.2;

/** Gases: fragments by 25 %, small peaks by more. Instruments: all peaks alike. The gauge's factor errs as a fragment does. */
function errorsOf({ dense, firm = [] }: Variant, spread: number | null): Float64Array {
  if (spread !== null) return dense.map((value) => spread * value);
  const errors = peakErrors(dense);
  const base = basePeak(dense);
  for (let m = 1; m < dense.length; m++) if (Math.abs(dense[m]!) === base) errors[m] = PATTERN_ERROR * base;
  errors[0] = PATTERN_ERROR * dense[0]!;
  for (const m of firm) errors[m] = FIRM_ERROR * Math.abs(dense[m]!);
  return errors;
}

export const isInstrument = ({ cause }: Candidate): boolean => isOwn(cause) && cause.instrument;
