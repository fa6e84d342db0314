/** When what is usual must be learned anew: other masses, another scale, another calibration. */
import { isReady, newBaseline } from './baseline.ts';
import { fits, measuredMasses } from './channels.ts';
import { emptyKappaBook } from './instrumentMemory.ts';
import type { Baseline, Memory } from './memory.ts';
import { YOUNG_DAYS } from './parameters.ts';
import type { WatchInput, WatchStep } from './types.ts';

/** Scans in a row that do not fit the baseline's masses or scale before it is learned anew. */
const MISFITS_BEFORE_NEW = 12;

export type Note = WatchStep['notes'][number];

/** The baseline that this scan fits; null while it does not. A lasting change of masses or scale is learned anew. */
export function fittingBaseline(
  { memory, input, notes }: { memory: Memory; input: WatchInput; notes: Note[] },
  baseline: Baseline | undefined,
): Baseline | null {
  const { peaks, scan } = input;
  const start = () =>
    newBaseline({ masses: measuredMasses(peaks), scaled: peaks.scaled, detector: scan.detector, atMs: scan.atMs });
  if (!baseline) {
    memory.baselines[memory.state] = start();
    return memory.baselines[memory.state]!;
  }
  // Once it is learned, another detector is another scale and another noise of the same chamber (detectors.ts).
  baseline.detector ??= scan.detector;
  baseline.inUse ??= scan.detector;
  const detector = isReady(baseline) || scan.detector === null || baseline.detector === scan.detector;
  const alike = baseline.scaled === peaks.scaled && fits(peaks, baseline.masses);
  if (alike && detector) {
    baseline.misfits = 0;
    return baseline;
  }
  baseline.misfits++;
  // What is usual is learned on the detector that takes most scans, not on the one that happened to come first.
  if (alike && baseline.first !== null && baseline.misfits > baseline.first.length) {
    memory.baselines[memory.state] = start();
    return memory.baselines[memory.state]!;
  }
  if (baseline.misfits < MISFITS_BEFORE_NEW) return null;
  hold(memory, (state) => state === memory.state);
  memory.baselines[memory.state] = start();
  notes.push({
    code: 'baseline-new',
    text: 'The masses or the scale of the scans have changed: what is usual is learned anew.',
  });
  return memory.baselines[memory.state]!;
}

/** The watch begins with the first state that it knows; said once, and again after all was learned anew. */
export function noteYoung(memory: Memory, atMs: number, notes: Note[]): void {
  if (Object.values(memory.baselines).filter(isReady).length !== 1) return;
  const since = new Date(atMs).toISOString().slice(0, 16).replace('T', ' ');
  notes.push({
    code: 'young-baseline',
    text: `Watched since ${since} UTC against what the first scans have shown. The bands are wide until about ${YOUNG_DAYS} days of this chamber's own quiet data have come in.`,
  });
}

/** What stands against a baseline that is gone stays until a person closes it. */
function hold(memory: Memory, inState: (state: string) => boolean): void {
  for (const standing of memory.standing) {
    if (standing.direction === null || !inState(standing.state)) continue;
    standing.direction = null;
    standing.observed = null;
    standing.held = true;
  }
  memory.settling = null;
  memory.carried = null;
  memory.visit = null;
  memory.quality.lastTwo = [];
  memory.track = { ...memory.track, recent: [], mean: null, counts: {}, pending: null };
}

/** Another mass list took its place in this state. */
export function holdState(memory: Memory, state: string): void {
  if (memory.state === state) hold(memory, (other) => other === state);
  else {
    memory.standing = memory.standing.map((standing) =>
      standing.direction !== null && standing.state === state
        ? { ...standing, direction: null, observed: null, held: true }
        : standing,
    );
  }
}

export function relearnAll(memory: Memory, notes: Note[]): void {
  hold(memory, () => true);
  memory.baselines = {};
  memory.states = { ...memory.states, recipes: {}, habit: null, letIn: [] };
  memory.impossible = { above: 0, below: 0, kappa: null, scans: 0 };
  memory.instrument = { ...memory.instrument, kappa: emptyKappaBook(), gain: { seen: null, scans: 0 }, aside: null };
  notes.push({
    code: 'baseline-new',
    text: 'The calibration of the analyser has changed by an unknown factor: what is usual is learned anew.',
  });
}
