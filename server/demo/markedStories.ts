/** What was done on purpose to learn about an analyser: scans that its engineer marks. */
import type { Story } from './story.ts';

const HOUR_MS = 3_600_000;

/** The valve in front of the analyser was closed for a while, so that it could be told from its own gas. */
export function ownGasRecorded(anchorMs: number): Story {
  const span = { fromMs: anchorMs - 50 * HOUR_MS, toMs: anchorMs - 48 * HOUR_MS };
  return {
    title: 'Own gas of the analyser recorded with its valve closed',
    chamber: 'heron-prep',
    analyser: 'heron-prep-a',
    sinceMs: span.fromMs,
    expected: null,
    valveClosed: span,
    happenings: { spans: [{ state: 'calibration', ...span }] },
  };
}

/** Pure nitrogen let in on purpose: how this analyser shows it is written down. */
export function nitrogenDose(anchorMs: number): Story {
  const span = { fromMs: anchorMs - 44 * HOUR_MS, toMs: anchorMs - 42 * HOUR_MS };
  const DOSE = 1e-2;
  return {
    title: 'Pure nitrogen let in for calibration, declared',
    chamber: 'heron-garage',
    analyser: 'heron-garage-a',
    sinceMs: span.fromMs,
    expected: null,
    pureGas: { gas: 'N2', ...span },
    happenings: {
      spans: [{ state: 'calibration', ...span }],
      loads: [(atMs) => (atMs >= span.fromMs && atMs < span.toMs ? { N2: DOSE } : {})],
    },
  };
}
