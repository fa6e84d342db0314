/** The level that a chamber comes down to, from quiet scans in base: what a pump-down is going for. */
import { gaugeReading } from '../analysis/gauge.ts';
import type { Memory } from './memory.ts';
import type { WatchInput } from './types.ts';

/** Share of a new scan in the level at rest. */
const REST_SHARE = 0.02;

/** Gauge and sum each have a level of their own. */
export function learnRest(memory: Memory, input: WatchInput): void {
  const moved = memory.standing.some(
    ({ direction, signature }) => direction !== null || signature === 'impossible-pressure',
  );
  if (memory.state !== 'base' || memory.settling || moved) return;
  const { scan, analysis, peaks } = input;
  const gauge = gaugeReading(scan);
  const { rest } = memory.overTime.pumpDown;
  const follow = (before: number | undefined, pressurePa: number | null) =>
    pressurePa === null || !(pressurePa > 0)
      ? before
      : before === undefined
        ? Math.log10(pressurePa)
        : before + REST_SHARE * (Math.log10(pressurePa) - before);
  const ofGauge = follow(rest.gauge, gauge.kind === 'reading' ? gauge.pressurePa : null);
  const ofSum = follow(rest.sum, peaks.scaled ? analysis.sumPa : null);
  memory.overTime.pumpDown = {
    ...memory.overTime.pumpDown,
    rest: { ...(ofGauge !== undefined && { gauge: ofGauge }), ...(ofSum !== undefined && { sum: ofSum }) },
  };
}
