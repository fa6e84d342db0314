/** Analysis and watch as the workers call them, with the prepared analysers kept: making one costs more than a scan. */
import { type Analyser, makeAnalyser } from '../shared/analysis/analyse.ts';
import { instrumentView } from '../shared/analysis/instrument/view.ts';
import type { Calibration, InstrumentMemory, InstrumentView } from '../shared/analysis/types.ts';
import { CATALOGUE_VERSION } from '../shared/catalogue/gases.ts';
import { catalogueFor } from '../shared/catalogue/select.ts';
import { type CoursesView, coursesView } from '../shared/watch/coursesView.ts';
import { learnPinned } from '../shared/watch/pins.ts';
import { nameExample } from '../shared/watch/siteExamples.ts';
import type { BaselineView, WatchContext, WatchInput, WatchMemory, WatchStep } from '../shared/watch/types.ts';
import { baselineViews, watchScan } from '../shared/watch/watch.ts';
import { type MarkedScience, markedScience } from './markedScience.ts';
import { recentlyUsed } from './remembered.ts';

/** Analyser prepared for one calibration and one list of gases, a few hundred kilobytes each. */
const MOST_PREPARED = 300;

export interface Science {
  readonly catalogueVersion: string;
  readonly analyserFor: (calibration: Calibration, gases: readonly string[]) => Analyser;
  /** Gives the next memory; the one it was given stays as it was. */
  readonly watchScan: (memory: WatchMemory | null, context: WatchContext, input: WatchInput) => WatchStep;
  readonly instrumentView: (memory: InstrumentMemory | null) => InstrumentView | null;
  readonly coursesView: (memory: WatchMemory) => CoursesView;
  readonly marked: MarkedScience;
  readonly baselines: (memory: WatchMemory) => readonly BaselineView[];
  readonly learnPinned: typeof learnPinned;
  readonly nameExample: typeof nameExample;
}

export const makeScience = (): Science => {
  const prepared = recentlyUsed<string, Analyser>(MOST_PREPARED);
  return {
    catalogueVersion: CATALOGUE_VERSION,
    analyserFor: (calibration, gases) => {
      // A calibration's version changes with any of its values, and names its analyser.
      const key = [calibration.version, ...gases].join('\n');
      const known = prepared.get(key);
      if (known) return known;
      const made = makeAnalyser(calibration, catalogueFor(gases));
      prepared.set(key, made);
      return made;
    },
    watchScan,
    instrumentView,
    coursesView,
    marked: markedScience,
    baselines: baselineViews,
    learnPinned,
    nameExample,
  };
};
