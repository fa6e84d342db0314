/** A chamber's scans through the real analysis and the watch, with a calibration per scan and what the analysis may add. */
import { type Answer, makeAnalyser } from '../../../shared/analysis/analyse.ts';
import type { AnalysisScan, Calibration, InstrumentMemory, Measurement } from '../../../shared/analysis/types.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import type { WatchContext, WatchEvent, WatchInput, WatchMemory, WatchStep } from '../../../shared/watch/types.ts';
import { watchScan } from '../../../shared/watch/watch.ts';
import { calibrationOf, contextOf, type RunOptions, scansOf } from '../world.ts';
import type { World } from './chamber.ts';

export interface Streamed {
  readonly input: WatchInput;
  readonly calibration: Calibration;
  readonly seconds: number;
}

export interface StreamSettings {
  readonly calibrationAt?: (seconds: number, usual: Calibration) => Calibration;
  /** The analysis is given what earlier scans told of the analyser. */
  readonly remembers?: boolean;
  /** What arrives instead of what was sent. */
  readonly scanAt?: (scan: AnalysisScan, seconds: number) => AnalysisScan;
  /** Laid over what the analysis says of the measurement. */
  readonly measurementAt?: (seconds: number) => Partial<Measurement>;
}

export function streamOf(world: World, options: RunOptions, settings: StreamSettings = {}): Streamed[] {
  const { gases } = contextOf(world).chamber;
  const analysers = new Map<string, ReturnType<typeof makeAnalyser>>();
  let instrument: InstrumentMemory | null = null;
  return [...scansOf(world, options)].map(({ scan: sent, seconds }) => {
    const scan = settings.scanAt?.(sent, seconds) ?? sent;
    const usual = calibrationOf(world);
    const calibration = settings.calibrationAt?.(seconds, usual) ?? usual;
    const analyser = analysers.get(calibration.version) ?? makeAnalyser(calibration, catalogueFor(gases));
    analysers.set(calibration.version, analyser);
    const answer: Answer = analyser.analyse(scan, settings.remembers ? instrument : null);
    instrument = answer.instrument;
    const { peaks, analysis } = answer;
    const measurement = { ...analysis.measurement, ...settings.measurementAt?.(seconds) } as Measurement;
    return { input: { scan, peaks, analysis: { ...analysis, measurement } }, calibration, seconds };
  });
}

export interface WatchedStream {
  readonly events: readonly { readonly event: WatchEvent; readonly seconds: number }[];
  readonly steps: readonly WatchStep[];
  /** Beside that the watch has begun, which every stream says once. */
  readonly notes: readonly string[];
  /** `raised water` and the like, in order. */
  readonly said: readonly string[];
}

export function watchStream(
  world: World,
  stream: readonly Streamed[],
  limits: WatchContext['limits'] = [],
): WatchedStream {
  const context = contextOf(world, limits);
  let memory: WatchMemory | null = null;
  const events: { event: WatchEvent; seconds: number }[] = [];
  const steps: WatchStep[] = [];
  for (const { input, calibration, seconds } of stream) {
    // As it is kept: through JSON.
    const kept: WatchMemory | null = memory === null ? null : (JSON.parse(JSON.stringify(memory)) as WatchMemory);
    const step: WatchStep = watchScan(kept, { ...context, calibration }, input);
    memory = step.memory;
    steps.push(step);
    events.push(...step.events.map((event) => ({ event, seconds })));
  }
  return {
    events,
    steps,
    notes: steps.flatMap((step) => step.notes.map(({ code }) => code)).filter((code) => code !== 'young-baseline'),
    said: events.map(({ event }) => `${event.kind} ${event.signature}`),
  };
}
