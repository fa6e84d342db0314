/** One simulated chamber through the real analysis and the watch. */
import { makeAnalyser } from '../../../shared/analysis/analyse.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import type { WatchContext, WatchEvent, WatchMemory, WatchStep } from '../../../shared/watch/types.ts';
import { watchScan } from '../../../shared/watch/watch.ts';
import { contextOf, type RunOptions, scansOf } from '../world.ts';
import type { World } from './chamber.ts';

export interface Happened {
  readonly event: WatchEvent;
  /** Seconds since the start of the world. */
  readonly seconds: number;
}

export interface WorldRun {
  readonly events: readonly Happened[];
  readonly scans: number;
  readonly last: WatchStep | null;
}

export interface RunSettings {
  readonly limits?: WatchContext['limits'];
  readonly context?: WatchContext;
  readonly eachStep?: (step: WatchStep, seconds: number) => void;
}

export function runWorld(world: World, options: RunOptions, settings: RunSettings = {}): WorldRun {
  const context = settings.context ?? contextOf(world, settings.limits);
  const analyser = makeAnalyser(context.calibration, catalogueFor(context.chamber.gases));
  const events: Happened[] = [];
  let memory: WatchMemory | null = null;
  let last: WatchStep | null = null;
  let scans = 0;
  for (const { scan, seconds } of scansOf(world, options)) {
    const step = watchScan(memory, context, { scan, ...analyser.analyse(scan) });
    memory = step.memory;
    last = step;
    scans++;
    settings.eachStep?.(step, seconds);
    for (const event of step.events) events.push({ event, seconds });
  }
  return { events, scans, last };
}

export const raisedOf = (run: WorldRun): Happened[] => run.events.filter(({ event }) => event.kind === 'raised');
