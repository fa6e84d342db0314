/**
 * Silence is the only thing that the clock decides: everything else waits for the next scan.
 *
 * A chamber may be silent for three scan periods, but for ten minutes at least, so that one lost scan of a fast
 * analyser calls nobody. `stale` for the eye is stricter: three periods, whatever their length.
 */

import { SILENT_STATES } from './states.ts';
import type { Finding } from './types.ts';
import { duration } from './wording.ts';

const PERIODS_ALLOWED = 3;
const LEAST_ALLOWED_SECONDS = 600;

export interface SilenceInput {
  readonly lastScanAtMs: number | null;
  readonly periodSeconds: number | null;
  readonly state: string | null;
  readonly nowMs: number;
}

export interface SilenceVerdict {
  /** Beyond the allowed silence, in a state in which scans are expected. */
  readonly silent: boolean;
  /** More than three scan periods old. */
  readonly stale: boolean;
  readonly ageSeconds: number | null;
  readonly allowedSeconds: number;
}

export function judgeSilence({ lastScanAtMs, periodSeconds, state, nowMs }: SilenceInput): SilenceVerdict {
  const threePeriods = PERIODS_ALLOWED * (periodSeconds ?? 0);
  const allowedSeconds = Math.max(threePeriods, LEAST_ALLOWED_SECONDS);
  if (lastScanAtMs === null) return { silent: false, stale: true, ageSeconds: null, allowedSeconds };
  const ageSeconds = Math.max(0, (nowMs - lastScanAtMs) / 1000);
  const expected = state === null || !SILENT_STATES.has(state);
  return {
    silent: expected && ageSeconds > allowedSeconds,
    stale: ageSeconds > (periodSeconds === null ? allowedSeconds : threePeriods),
    ageSeconds,
    allowedSeconds,
  };
}

/** What the alert `silent` says. It names durations only: the clock times stand beside it. */
export function silenceFinding(verdict: SilenceVerdict, periodSeconds: number | null): Finding {
  const age = verdict.ageSeconds ?? 0;
  return {
    summary: `Nobody is watching this chamber: no scan has come for ${duration(age)}.`,
    sureness: 'nearly certain',
    firstStep: 'First see whether the emission of the analyser is on; then the gateway.',
    settle: 'One scan settles it.',
    evidence: [
      {
        name: 'Time since the last scan',
        value: age,
        unit: 's',
        expected: periodSeconds === null ? null : `a scan every ${duration(periodSeconds)}`,
        expectedLow: 0,
        expectedHigh: verdict.allowedSeconds,
        verdict: 'longer than allowed',
      },
    ],
    alternatives: [],
  };
}
