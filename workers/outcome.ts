/** What is made of a batch of outstanding scans, before anything is written. */
import type { InstrumentMemory, InstrumentView, ScanAnalysis } from '../shared/analysis/types.ts';
import type { CoursesView } from '../shared/watch/coursesView.ts';
import type { BaselineView, WatchMemory, WatchStep } from '../shared/watch/types.ts';
import type { OutstandingScan } from './outstanding.ts';
import type { ChamberEvent } from './standing.ts';

/** The state of a chamber that has never said otherwise (contract). */
export const DEFAULT_STATE = 'base';

export interface Note {
  readonly code: string;
  readonly text: string;
}

/** One scan, analysed: what its reading is made of. */
export interface Outcome {
  readonly work: OutstandingScan;
  readonly state: string;
  readonly stateSince: Date;
  /** Null: no answer, `notes` says why. */
  readonly analysis: ScanAnalysis | null;
  readonly notes: readonly Note[];
  /** It went through the watch. */
  readonly judged: boolean;
  readonly calibrationVersion: string;
  readonly catalogueVersion: string;
}

/** One analyser's part of a batch. */
export interface AnalyserOutcome {
  readonly analyser: string;
  /** First and last of its scans in this batch that are not late; null: all were late. */
  readonly first: Outcome | null;
  readonly newest: Outcome | null;
  readonly lastStep: WatchStep | null;
  /** Null: nothing was judged, the stored memory stands. */
  readonly watch: {
    readonly memory: WatchMemory;
    readonly instrument: InstrumentMemory | null;
    readonly judgedToMs: number;
    readonly readVersion: number;
  } | null;
  /** What the analyser's own memory says of it now; null as above, and while there is nothing to say. */
  readonly instrument: InstrumentView | null;
  /** Slow courses for people; null: nothing judged. */
  readonly courses: CoursesView | null;
  /** Baselines of the states that the batch went through. */
  readonly baselines: readonly BaselineView[];
}

export interface StateChange {
  readonly analyser: string;
  readonly at: Date;
  readonly state: string;
}

export interface BatchOutcome {
  readonly outcomes: readonly Outcome[];
  readonly analysers: readonly AnalyserOutcome[];
  readonly events: readonly { readonly analyser: string; readonly event: ChamberEvent }[];
  readonly stateChanges: readonly StateChange[];
  /** Closed alerts of which a watch has now been told. */
  readonly told: readonly { readonly alert: string; readonly analyser: string }[];
}

/** Readings that say only that there is no answer: for scans whose results the database refused. */
export const refuseAll = (works: readonly OutstandingScan[], text: string): BatchOutcome => ({
  outcomes: works.map((work) => ({
    work,
    state: work.reportedState ?? work.before?.state ?? DEFAULT_STATE,
    stateSince: work.at,
    analysis: null,
    notes: [{ code: 'analysis-failed', text }],
    judged: false,
    calibrationVersion: '',
    catalogueVersion: '',
  })),
  analysers: [],
  events: [],
  stateChanges: [],
  told: [],
});
