/**
 * Another calibration for the same analyser. Most of them move the heights by a factor that is known, or not at all: what
 * is usual is then carried over instead of being learned anew, and a leak that begins at the same moment is still seen.
 *
 * A new number may also describe what has changed in the analyser itself (another emission, another gain): then the
 * heights do not move. The scan says which: the spectrum has stepped as foretold, or it has not. If neither, the
 * factor is not known, and what is usual is learned anew.
 */
import { isReady } from './baseline.ts';
import { toChannels } from './channels.ts';
import { type CommonStep, commonStep } from './commonStep.ts';
import { emptyKappaBook } from './instrumentMemory.ts';
import { lastSpectrum } from './lastSpectrum.ts';
import type { Memory } from './memory.ts';
import { type Note, relearnAll } from './relearn.ts';
import { rescaleMemory } from './rescale.ts';
import { type ScaleChange, scaleChange, scaleOf } from './scale.ts';
import type { WatchContext, WatchInput } from './types.ts';
import { number } from './wording.ts';

/** A step that differs from what was foretold by less is the one that was foretold. */
const NEAR = Math.log(1.15);
const MOST_SPREAD = 0.2;
/** A factor that nobody foretold is taken off when it is more than the noise of a few peaks. */
const WORTH_CARRYING = 0.02;

type FactorAt = (mass: number) => number;

interface Step {
  readonly memory: Memory;
  readonly context: WatchContext;
  readonly input: WatchInput;
  readonly notes: Note[];
}

export function followCalibration(step: Step): void {
  const { memory, context, input, notes } = step;
  const { version } = context.calibration;
  const before = memory.instrument.scale;
  if (memory.calibration === version && before !== null) return;
  const now = scaleOf(context.calibration, input.scan);
  memory.instrument.scale = now;
  if (memory.calibration === version) return;
  memory.calibration = version;
  const change = before && scaleChange(before, now);
  const factorAt = change && carriedBy(step, change);
  if (change === null || factorAt === null) {
    relearnAll(memory, notes);
    return;
  }
  const moved = factorAt(28) !== 1 || factorAt(44) !== 1;
  if (moved) rescaleMemory(memory, factorAt);
  if (change.otherGases) forgetGases(memory);
  else if (change.gaugeFactor !== 1) forgetKappa(memory);
  const note = moved ? carriedNote(factorAt) : change.otherGases ? GASES_NEW : null;
  if (note) notes.push(note);
}

/** By what the heights have moved; null: it cannot be told. */
function carriedBy(step: Step, { factorAt, moves, loose }: ScaleChange): FactorAt | null {
  if (!moves && !loose) return () => 1;
  const seen = stepsSeen(step, factorAt);
  if (loose) {
    const known = seen.at(-1)?.known;
    // Shares that were scaled otherwise say nothing by themselves.
    if (!known || known.spread > MOST_SPREAD) return moves ? null : factorAt;
    if (Math.abs(Math.log(known.factor)) < WORTH_CARRYING) return factorAt;
    return (mass) => factorAt(mass) * known.factor;
  }
  let undecided = true;
  for (const { known, none } of seen) {
    const best = awayFromOne(known) <= awayFromOne(none) ? known : none;
    // A gas that has moved most of the peaks hides the step.
    if (best.spread > MOST_SPREAD) continue;
    undecided = false;
    if (Math.abs(Math.log(best.factor)) < NEAR) return best === known ? factorAt : () => 1;
  }
  // Where nothing speaks against it, the number that was given is believed.
  return undecided ? factorAt : null;
}

const awayFromOne = ({ factor, spread }: CommonStep): number => Math.abs(Math.log(factor)) + spread;

/**
 * The step of the spectrum beyond the factor that was foretold, and beyond none: first against what is usual, which may
 * have been learned before the analyser drifted to where it was now corrected from; then against the scans before.
 */
function stepsSeen({ memory, input }: Step, factorAt: FactorAt): { known: CommonStep; none: CommonStep }[] {
  const { scan, peaks } = input;
  const baseline = memory.baselines[memory.state];
  if (scan.state !== memory.state || !isReady(baseline)) return [];
  if (scan.detector !== null && scan.detector !== baseline.inUse) return [];
  const { trim } = baseline.detectors[baseline.inUse ?? ''] ?? { trim: 1 };
  const after = toChannels(peaks, null, baseline.masses).map((height) => height / trim);
  const foretold = after.map((height, m) => (m === 0 ? height : height / factorAt(baseline.masses[m - 1]!)));
  const before = [memory.settling ? null : baseline.mean, lastSpectrum(memory, baseline, scan.atMs)];
  return before.flatMap((spectrum) => {
    const known = spectrum && commonStep(spectrum, foretold, baseline);
    const none = spectrum && commonStep(spectrum, after, baseline);
    return known && none ? [{ known, none }] : [];
  });
}

function forgetGases(memory: Memory): void {
  for (const baseline of Object.values(memory.baselines)) baseline.gases = {};
  memory.estimates = [];
  forgetKappa(memory);
}

function forgetKappa(memory: Memory): void {
  memory.impossible = { ...memory.impossible, kappa: null, scans: 0 };
  memory.instrument.kappa = emptyKappaBook();
}

const carriedNote = (factorAt: FactorAt): Note => ({
  code: 'baseline-carried',
  text: `The calibration of the analyser has changed: its heights are now ${number(factorAt(28))} times what they were at mass 28, and what is usual was carried over.`,
});

const GASES_NEW: Note = {
  code: 'gases-new',
  text: 'The calibration of the analyser has changed how gases are told from peaks: the usual pressures of gases are learned anew, the spectrum goes on being watched.',
};
