import { describe, expect, test } from 'vitest';
import type { WatchEvent } from '../../../shared/watch/types.ts';
import { followWaterBursts } from '../../../shared/watch/waterBursts.ts';
import { draft, frameOf, watched } from '../../support/world/frames.ts';

const chamber = watched(31, { kind: 'unbaked', periodSeconds: 60 });
const HOUR_MS = 3_600_000;

/** Per entry the factor of mass 18 over its baseline, and what comes with it. */
function story(scans: readonly (readonly [minutes: number, factor: number, air?: number])[]) {
  const memory = draft(chamber);
  memory.stateSinceMs = memory.lastAtMs! - 10 * HOUR_MS;
  const baseline = memory.baselines.base!;
  const usual = baseline.mean[baseline.masses.indexOf(18) + 1]!;
  const events: WatchEvent[] = [];
  for (const [minutes, factor, air = 0] of scans) {
    const rise = (factor - 1) * usual;
    const frame = frameOf(chamber, { 18: rise, 17: 0.23 * rise, 28: air * rise }, { memory, times: 3 });
    events.push(...followWaterBursts({ ...frame, atMs: memory.lastAtMs! }));
    memory.lastAtMs = memory.lastAtMs! + minutes * 60_000;
  }
  return { events, memory };
}
const burst = (factor: number, air = 0) =>
  [
    [1, 1],
    [1, factor, air],
    [5, factor, air],
    [60, 1],
  ] as const;

describe('bursts of water', () => {
  test('three within a day, without air, are a cooling circuit', () => {
    const { events } = story([...burst(3), ...burst(2.5), ...burst(4)]);
    expect(events).toHaveLength(1);
    expect(events[0]).toMatchObject({ kind: 'raised', signature: 'water', priority: 'medium', gases: ['H2O'] });
    expect(events[0]!.kind === 'raised' && events[0]!.finding.summary).toBe(
      'Water comes in bursts and no air with it: 3 within a day, up to 4 times the usual. A cooling circuit rather than a wet wall. Likely.',
    );
  });

  test('ten times the usual is urgent', () => {
    expect(story([...burst(12), ...burst(20), ...burst(15)]).events[0]).toMatchObject({ priority: 'high' });
  });

  test('two are none, three small ones are none, and neither is water that comes with air', () => {
    expect(story([...burst(3), ...burst(3)]).events).toEqual([]);
    expect(story([...burst(1.3), ...burst(1.3), ...burst(1.3)]).events).toEqual([]);
    expect(story([...burst(3, 0.5), ...burst(3, 0.5), ...burst(3, 0.5)]).events).toEqual([]);
  });

  test('what rises slowly is no burst', () => {
    const slow = Array.from({ length: 12 }, (_, i) => [10, 1 + i / 8] as const);
    expect(story([...slow, [60, 1], ...slow, [60, 1], ...slow, [60, 1]]).events).toEqual([]);
  });

  test('two quiet days end it', () => {
    const quiet = Array.from({ length: 50 }, () => [60, 1] as const);
    const { events, memory } = story([...burst(3), ...burst(3), ...burst(3), ...quiet]);
    expect(events.map(({ kind }) => kind)).toEqual(['raised', 'returned']);
    expect(memory.standing).toEqual([]);
  });

  test('nothing is counted within two hours of another state', () => {
    const memory = draft(chamber);
    memory.stateSinceMs = memory.lastAtMs!;
    const before = memory.overTime.water;
    const baseline = memory.baselines.base!;
    const usual = baseline.mean[baseline.masses.indexOf(18) + 1]!;
    followWaterBursts(frameOf(chamber, { 18: 3 * usual }, { memory }));
    expect(memory.overTime.water).toEqual(before);
  });
});
