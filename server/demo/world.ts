/** The whole example at any moment: chambers, analysers, stories, and the scans that come of them. */
import type { Scan } from '../../shared/contract/scans.ts';
import { PLANTS } from './chambers.ts';
import { type AnalyserModel, makeAnalyser } from './instrument/analyser.ts';
import { INSTRUMENTS } from './instruments.ts';
import { type ChamberModel, type Happenings, makeChamber } from './physics/chamber.ts';
import type { Instrument, Plant } from './plant.ts';
import { storiesFrom } from './stories.ts';
import type { Story } from './story.ts';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;

export const HISTORY_MS = 72 * HOUR_MS;
/** Before its full record begins a gateway has kept one scan in so many minutes. */
const ARCHIVE_PERIOD_MINUTES = 15;

export interface World {
  readonly anchorMs: number;
  readonly stories: readonly Story[];
  readonly chambers: ReadonlyMap<string, ChamberModel>;
  /** In time order over all analysers. A scan of a given moment is the same whoever asks, and whenever. */
  readonly scans: (stretch: Stretch) => Generator<Scan>;
}

export interface Stretch {
  /** Scans that begin later than this … */
  readonly afterMs: number;
  /** … and not later than this. */
  readonly untilMs: number;
  /** From here on every scan, one a minute; before it only what the archive keeps. */
  readonly fullFromMs: number;
}

/** `anchorMs`: the moment around which the stories are told; the history begins three days before it. */
export function makeWorld(anchorMs: number): World {
  const stories = storiesFrom(anchorMs);
  const historyFromMs = anchorMs - HISTORY_MS;
  const chambers = new Map(
    PLANTS.map((plant) => [plant.id, makeChamber(plant, happeningsOf(plant, stories), historyFromMs)]),
  );
  const stations = INSTRUMENTS.map((instrument, index) => station({ instrument, index, stories, historyFromMs }));
  return {
    anchorMs,
    stories,
    chambers,
    scans: (stretch) => scansOf({ chambers, stations, stretch }),
  };
}

interface Station {
  readonly analyser: AnalyserModel;
  /** Where in the minute it begins its scans: spread evenly, so that a feed has an even load. */
  readonly phaseMs: number;
  readonly silentFromMs: number;
}

interface StationPlace {
  readonly instrument: Instrument;
  readonly index: number;
  readonly stories: readonly Story[];
  readonly historyFromMs: number;
}

function station({ instrument, index, stories, historyFromMs }: StationPlace): Station {
  const plant = PLANTS.find(({ id }) => id === instrument.chamber);
  if (!plant) throw new Error(`analyser ${instrument.id} stands in an unknown chamber ${instrument.chamber}`);
  const own = stories.filter(({ analyser }) => analyser === instrument.id);
  const analyser = makeAnalyser({
    instrument,
    gain: (atMs) => own.reduce((gain, story) => gain * (story.gain?.(atMs) ?? 1), 1),
    gaugeUnit: plant.gaugeUnit,
    tellsTemperature: plant.tellsTemperature,
    calibratedMs: historyFromMs,
    valveClosed: (atMs) => own.some(({ valveClosed: span }) => span && atMs >= span.fromMs && atMs < span.toMs),
  });
  const phaseMs = Math.floor((index * 60) / INSTRUMENTS.length) * 1000;
  return { analyser, phaseMs, silentFromMs: Math.min(...own.map((story) => story.silentFromMs ?? Infinity)) };
}

function happeningsOf(plant: Plant, stories: readonly Story[]): Happenings {
  const own = stories.filter(({ chamber }) => chamber === plant.id);
  return {
    spans: own.flatMap(({ happenings }) => happenings?.spans ?? []),
    vents: own.flatMap(({ happenings }) => happenings?.vents ?? []),
    bakes: own.flatMap(({ happenings }) => happenings?.bakes ?? []),
    loads: own.flatMap(({ happenings }) => happenings?.loads ?? []),
  };
}

interface ScanRequest {
  readonly chambers: ReadonlyMap<string, ChamberModel>;
  readonly stations: readonly Station[];
  readonly stretch: Stretch;
}

function* scansOf({ chambers, stations, stretch }: ScanRequest): Generator<Scan> {
  const { afterMs, untilMs, fullFromMs } = stretch;
  for (let minute = Math.floor(afterMs / MINUTE_MS); minute * MINUTE_MS <= untilMs; minute += 1) {
    if (minute * MINUTE_MS < fullFromMs && minute % ARCHIVE_PERIOD_MINUTES !== 0) continue;
    for (const { analyser, phaseMs, silentFromMs } of stations) {
      const atMs = minute * MINUTE_MS + phaseMs;
      if (atMs <= afterMs || atMs > untilMs || atMs >= silentFromMs) continue;
      const moment = chambers.get(analyser.instrument.chamber)?.momentAt(atMs);
      const scan = moment && analyser.scanAt(atMs, moment);
      if (scan) yield scan;
    }
  }
}
