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
  /** What the rationalisation of this chamber's kind asks of the watch; a signature without a rule is judged as built. */
  readonly rules?: readonly SignatureRule[];
  /** Closed cases of this site whose cause was verified: they compete beside the catalogue's patterns. */
  readonly examples?: readonly SiteExample[];
  /** Baselines that an engineer has pinned, oldest first. */
  readonly pins?: readonly BaselinePin[];
}

/** What people may set for a signature; a field that is absent leaves the built-in judgement. */
export interface SignatureRule {
  readonly signature: Signature;
  /** Takes the place of the usual priority; the watch may still lower it where it is not sure. */
  readonly priority?: Priority;
  /** Not raised in a state that is missing here. */
  readonly armedStates?: readonly string[];
  /** Dead band in decades of what is usual; only widens the built-in one. For causes seen in the spectrum. */
  readonly leastDecades?: number;
  /** Scans for which the condition must last; only lengthens the built-in on-delay. For causes seen in the spectrum. */
  readonly onDelayScans?: number;
}

/** The change that a verified case showed, on its own masses. */
export interface SiteExample {
  readonly id: string;
  readonly signature: Signature;
  readonly gases: readonly string[];
  readonly masses: readonly number[];
  /** N2-equivalent Pa per mass of the list, as it was seen. */
  readonly changePa: readonly number[];
  /** One standard deviation of each. */
  readonly sigmaPa: readonly number[];
  /** Change of the gauge, Pa N2-equivalent; null: no gauge. */
  readonly gaugeChangePa: number | null;
}

/** A baseline learned from a period that an engineer chose; adopted with the first scan at or after `validFromMs`. */
export interface BaselinePin {
  readonly id: string;
  readonly state: string;
  readonly validFromMs: number;
  /** As `learnPinned` made it; only the watch looks inside. */
  readonly baseline: WatchMemory;
}

/** The change that a finding stands on, for drawing it and for keeping it as an example. */
export interface ChangeSpectrum {
  readonly masses: readonly number[];
  readonly usualPa: readonly number[];
  readonly changePa: readonly number[];
  readonly sigmaPa: readonly number[];
  readonly gaugeChangePa: number | null;
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
  /** Absent for faults of the data and for limits. */
  readonly change?: ChangeSpectrum;
  /** The tempered odds of the name, 0 to 1; absent where nothing competed. */
  readonly odds?: number;
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
  /** The pin that it was taken from, and since when it is in force; absent: it was learned. */
  readonly pinId?: string;
  readonly pinnedAtMs?: number;
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
