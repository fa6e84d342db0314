/**
 * What the watch takes and gives. It decides; it does no I/O and reads no clock: the time is that of the scans.
 */
import type { AnalysisScan, Calibration, PeakList, ScanAnalysis } from '../analysis/types.ts';
import type { Alternative, Evidence, LeakRate } from '../contract/alerts.ts';
import type { Priority, Signature } from '../contract/words.ts';

/** What people set for a chamber and what the fleet document says of it. */
export interface WatchContext {
  readonly chamber: {
    readonly id: string;
    readonly name: string;
    readonly kind: string | null;
    readonly volumeLitres: number | null;
    /** Per gas at the chamber, l/s; empty when not given. */
    readonly pumpingSpeedLitresPerSecond: Readonly<Record<string, number>>;
    readonly gases: readonly string[];
  };
  readonly calibration: Calibration;
  readonly limits: readonly { readonly gas: string; readonly limitPa: number; readonly priority: Priority }[];
  /**
   * Signatures whose alert a person has closed since the last batch: the watch forgets that it had raised them,
   * so that a condition which still stands is raised again after its on-delay.
   */
  readonly closedByPerson: readonly Signature[];
}

export interface WatchInput {
  readonly scan: AnalysisScan;
  readonly peaks: PeakList;
  readonly analysis: ScanAnalysis;
}

/** The judgement that an alert carries; wording as of a colleague on the phone. */
export interface Finding {
  readonly summary: string;
  readonly sureness: 'nearly certain' | 'likely' | 'more likely than not' | 'open' | 'cannot tell';
  readonly firstStep: string | null;
  readonly settle: string | null;
  readonly evidence: readonly Evidence[];
  readonly leakRate?: LeakRate;
  readonly alternatives: readonly Alternative[];
}

export type WatchEvent =
  | {
      readonly kind: 'raised';
      readonly atMs: number;
      readonly signature: Signature;
      readonly gases: readonly string[];
      readonly priority: Priority;
      readonly finding: Finding;
    }
  /** The alert stands; its numbers or its gases have moved enough to be worth writing down. */
  | {
      readonly kind: 'updated';
      readonly atMs: number;
      readonly signature: Signature;
      readonly gases: readonly string[];
      readonly priority: Priority;
      readonly finding: Finding;
    }
  | { readonly kind: 'returned'; readonly atMs: number; readonly signature: Signature };

/** A gas in the drift strip: the words of contract StripMark without what only the round knows. */
export interface DriftMark {
  readonly gas: string;
  readonly status: 'measured' | 'below-detection' | 'not-measured';
  readonly decades: number | null;
  readonly halfWidth: number | null;
}

/** What is usual in one operating state, for drawing. */
export interface BaselineView {
  readonly state: string;
  readonly sinceMs: number;
  readonly untilMs: number;
  readonly gases: Readonly<
    Record<
      string,
      { medianLog10Pa: number; sigmaDecades: number; halfWidthDecades: number; scans: number; frozen: boolean }
    >
  >;
  /** Integer mass → N2-equivalent Pa. */
  readonly peaks: Readonly<Record<number, number>>;
}

/** Plain JSON; only the watch looks inside. */
export type WatchMemory = { readonly [key: string]: unknown };

export interface WatchStep {
  readonly memory: WatchMemory;
  readonly events: readonly WatchEvent[];
  readonly strip: readonly DriftMark[];
  readonly learning: { readonly have: number; readonly need: number } | null;
  readonly state: string;
  readonly stateSinceMs: number;
  readonly periodSeconds: number | null;
  /** What people should know of the judging itself: a baseline that is learned anew. */
  readonly notes: readonly { readonly code: string; readonly text: string }[];
}
