/** A chamber's scans through the product's analysis and watch, as the workers drive them, with the time that each took. */
import { type Analyser, makeAnalyser } from '../../../shared/analysis/analyse.ts';
import type { Calibration, InstrumentMemory } from '../../../shared/analysis/types.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import type { WatchContext, WatchEvent, WatchMemory, WatchStep } from '../../../shared/watch/types.ts';
import { watchScan } from '../../../shared/watch/watch.ts';
import type { Chamber } from './chamber.ts';
import { type Charts, emptyCharts, followCharts } from './rivals.ts';
import type { Arrival } from './stream.ts';

/** What the catalogue calls the process gases of the bench. */
const CATALOGUE_IDS: Readonly<Record<string, string>> = { Ar: 'Ar', N2: 'N2', NF3: 'NF3' };

export function contextOf({ seed, kind, volumeLitres, toldSpeeds, processGases, analyser }: Chamber): WatchContext {
  const calibration: Calibration = {
    analyser: `chamber-${seed}`,
    principle: analyser.principle,
    massRange: [1, analyser.lastMass],
    sensitivityAmperesPerPascal: analyser.unit === 'A' ? analyser.nominalPerPascal : null,
    multiplierGain: 1,
    transmissionExponent: 0,
    version: `${seed}/1`,
  };
  return {
    chamber: {
      id: `chamber-${seed}`,
      name: `Chamber ${seed}`,
      kind,
      volumeLitres,
      pumpingSpeedLitresPerSecond: toldSpeeds,
      gases: processGases.flatMap((gas) => CATALOGUE_IDS[gas] ?? []),
    },
    calibration,
    limits: [],
    closedByPerson: [],
  };
}

export interface Observer {
  readonly context: WatchContext;
  readonly analyser: Analyser;
}

export const observe = (chamber: Chamber): Observer => {
  const context = contextOf(chamber);
  return { context, analyser: makeAnalyser(context.calibration, catalogueFor(context.chamber.gases)) };
};

/** What is carried from scan to scan; plain data, so that a history can be gone on with in more than one way. */
export interface Course {
  memory: WatchMemory | null;
  instrument: InstrumentMemory | null;
  charts: Charts;
  judgedToMs: number;
}

export const startCourse = (): Course => ({
  memory: null,
  instrument: null,
  charts: emptyCharts(),
  judgedToMs: Number.NEGATIVE_INFINITY,
});

export interface Spent {
  scans: number;
  analysisMicroseconds: number;
  watchMicroseconds: number;
  anchors: number;
  anchorMicroseconds: number;
  /** Of looking at the clock and doing nothing, as often as the anchor. */
  clockMicroseconds: number;
}

export const nothingSpent = (): Spent => ({
  scans: 0,
  analysisMicroseconds: 0,
  watchMicroseconds: 0,
  anchors: 0,
  anchorMicroseconds: 0,
  clockMicroseconds: 0,
});

export interface Observed {
  readonly events: readonly WatchEvent[];
  readonly step: WatchStep;
}

/**
 * Of processor time: what else runs on the machine counts less than on the clock. After work the question itself takes
 * some ten microseconds, which are in every span that is measured: an empty span tells how many.
 */
const microseconds = (): number => {
  const { user, system } = process.cpuUsage();
  return user + system;
};

/** What the speed is held against: 100 × 100 sums of products. */
const ANCHOR = Float64Array.from({ length: 10_000 }, (_, i) => Math.sin(i));
const ANCHOR_EVERY = 20;

function anchor(spent: Spent): void {
  const begun = microseconds();
  let sum = 0;
  for (let row = 0; row < 100; row++) {
    for (let i = 0; i < 100; i++) sum += ANCHOR[row * 100 + i]! * ANCHOR[i * 100 + row]!;
  }
  spent.anchorMicroseconds += microseconds() - begun;
  if (!Number.isNaN(sum)) spent.anchors++;
}

/** @returns null for a scan that is late or came twice: it moves nothing */
export function take(observer: Observer, course: Course, arrival: Arrival, spent: Spent): Observed | null {
  const { scan } = arrival;
  if (scan.atMs <= course.judgedToMs) return null;
  const begun = microseconds();
  const { instrument, ...answer } = observer.analyser.analyse(scan, course.instrument);
  const analysed = microseconds();
  const step = watchScan(course.memory, observer.context, { scan, ...answer });
  const watched = microseconds();
  spent.watchMicroseconds += watched - analysed;
  spent.analysisMicroseconds += analysed - begun;
  spent.scans++;
  if (spent.scans % ANCHOR_EVERY === 0) {
    spent.clockMicroseconds += microseconds() - watched;
    anchor(spent);
  }
  course.instrument = instrument;
  course.memory = step.memory;
  course.judgedToMs = scan.atMs;
  followCharts(course.charts, scan, answer.analysis);
  return { events: step.events, step };
}
