/** When what is usual must be learned anew: other masses, another scale, another calibration. */
import { newBaseline } from './baseline.ts';
import { fits, measuredMasses } from './channels.ts';
import type { Baseline, Memory } from './memory.ts';
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
  const same = baseline.scaled === peaks.scaled && baseline.detector === scan.detector && fits(peaks, baseline.masses);
  if (same) {
    baseline.misfits = 0;
    return baseline;
  }
  baseline.misfits++;
  if (baseline.misfits < MISFITS_BEFORE_NEW) return null;
  hold(memory, (state) => state === memory.state);
  memory.baselines[memory.state] = start();
  notes.push({
    code: 'baseline-new',
    text: 'The masses, the detector or the scale of the scans have changed: what is usual is learned anew.',
  });
  return memory.baselines[memory.state]!;
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

export function relearnAll(memory: Memory, version: string, notes: Note[]): void {
  hold(memory, () => true);
  memory.baselines = {};
  memory.impossible = { above: 0, below: 0, kappa: null, scans: 0 };
  memory.calibration = version;
  notes.push({
    code: 'baseline-new',
    text: 'The calibration of the analyser has changed: what is usual is learned anew.',
  });
}
