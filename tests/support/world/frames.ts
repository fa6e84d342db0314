/** A chamber that has been watched for a while, and single scans in front of it: for the rooms inside the watch. */
import { makeAnalyser } from '../../../shared/analysis/analyse.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { causesOf } from '../../../shared/watch/causes.ts';
import { type Frame, makeFrame } from '../../../shared/watch/frame.ts';
import { type Baseline, draftOf, type Memory } from '../../../shared/watch/memory.ts';
import { referenceNow } from '../../../shared/watch/reference.ts';
import type { WatchContext, WatchInput, WatchMemory } from '../../../shared/watch/types.ts';
import { watchScan } from '../../../shared/watch/watch.ts';
import { contextOf, scansOf } from '../world.ts';
import { DAY, makeWorld, type World, type WorldOptions } from './chamber.ts';

export interface WatchedChamber {
  readonly world: World;
  readonly context: WatchContext;
  readonly memory: WatchMemory;
  readonly last: WatchInput;
}

export function watched(seed: number, options: WorldOptions = {}, scans = 60): WatchedChamber {
  const world = makeWorld(seed, { kind: 'baked', periodSeconds: 60, hasGauge: true, ...options });
  const context = contextOf(world);
  const analyser = makeAnalyser(context.calibration, catalogueFor(context.chamber.gases));
  let memory: WatchMemory | null = null;
  let last: WatchInput | null = null;
  const days = (scans * world.periodSeconds) / DAY;
  for (const { scan } of scansOf(world, { days, quietTimetable: true, mishaps: false })) {
    last = { scan, ...analyser.analyse(scan) };
    memory = watchScan(memory, context, last).memory;
  }
  return { world, context, memory: memory!, last: last! };
}

export const draft = ({ memory }: WatchedChamber): Memory => draftOf(memory)!;

/** The chamber's baseline spectrum plus `change` (N2-equivalent Pa by mass; `gauge` in Pa), seen `times` times. */
export function frameOf(
  chamber: WatchedChamber,
  change: Readonly<Record<number, number>> & { readonly gauge?: number },
  { times = 3, memory = draft(chamber) }: { readonly times?: number; readonly memory?: Memory } = {},
): Frame {
  const baseline = memory.baselines.base as Baseline;
  const q = new Float64Array(baseline.mean);
  q[0]! += change.gauge ?? 0;
  baseline.masses.forEach((mass, i) => {
    q[i + 1]! += change[mass] ?? 0;
  });
  let frame: Frame | null = null;
  for (let i = 0; i < times; i++) {
    const atMs = memory.lastAtMs! + 60_000;
    memory.lastAtMs = atMs;
    memory.scans++;
    frame = makeFrame({
      memory,
      baseline,
      context: chamber.context,
      input: chamber.last,
      atMs,
      seconds: 60,
      periodSeconds: 60,
      state: 'base',
      q,
      reference: referenceNow(memory, baseline, atMs),
      gasCauses: causesOf(chamber.context, baseline.masses),
    });
  }
  return frame!;
}

/** A pattern by mass, times an amount: what a gas of the handbook would add. */
export const peaks = (pattern: Readonly<Record<number, number>>, base: number): Record<number, number> =>
  Object.fromEntries(Object.entries(pattern).map(([mass, percent]) => [Number(mass), (percent / 100) * base]));
