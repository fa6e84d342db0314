/** Counting, and the same watch at scans of a second, a minute and ten minutes. Simulated; faults known by construction. */
import { describe, expect, test } from 'vitest';
import { advanceLanes, judgeLanes } from '../../../shared/watch/lanes.ts';
import { DAY, HOUR, makeWorld } from '../../support/world/chamber.ts';
import type { Fault } from '../../support/world/faults.ts';
import { draft, frameOf, watched } from '../../support/world/frames.ts';
import { raisedOf, runWorld } from '../../support/world/run.ts';

const calm = { quietTimetable: true, mishaps: false } as const;

function calls(
  periodSeconds: number,
  fromSeconds: number,
  lastSeconds: number,
  fault: Omit<Fault, 'fromSeconds'> | null,
) {
  const world = makeWorld(71, { kind: 'baked', periodSeconds, hasGauge: false, lastMass: 50 });
  const run = runWorld(world, {
    ...calm,
    days: (fromSeconds + lastSeconds) / DAY,
    ...(fault && {
      fault: { ...fault, fromSeconds, ...(fault.untilSeconds && { untilSeconds: fromSeconds + fault.untilSeconds }) },
    }),
  });
  return raisedOf(run).map(({ event, seconds }) => [event.signature, seconds - fromSeconds] as const);
}

const air = { kind: 'air', size: 10, oxygen: 0.8 } as const;

describe('a scan every second', () => {
  test('a leak is called within minutes', () => {
    const [first] = calls(1, 900, 300, air);
    expect(first?.[0]).toBe('air-leak');
    expect(first![1]).toBeGreaterThanOrEqual(9);
    expect(first![1]).toBeLessThan(180);
  });

  test('what passes within five seconds is not', () => {
    expect(calls(1, 900, 200, { ...air, untilSeconds: 5 })).toEqual([]);
  });
});

describe('scans that take minutes', () => {
  test.each([60, 600])('every %i s: with the third scan at the latest', (periodSeconds) => {
    const [first] = calls(periodSeconds, 40 * periodSeconds, 20 * periodSeconds, air);
    expect(first?.[0]).toBe('air-leak');
    expect(first![1]).toBeLessThanOrEqual(2 * periodSeconds);
  });
});

test.each([
  [1, 1500],
  [60, 8 * HOUR],
  [600, 4 * DAY],
])('every %i s: nothing is called while nothing happens', (periodSeconds, lastSeconds) => {
  expect(calls(periodSeconds, 0, lastSeconds, null)).toEqual([]);
});

describe('the first scan of a state', () => {
  const chamber = watched(72, { hasGauge: false }, 60);
  /** Counts of nitrogen in the scan lane; `changes`: its peak in each scan, Pa. */
  const counts = (previousState: string | null, changes: readonly number[]) => {
    const memory = draft(chamber);
    memory.previousState = previousState;
    memory.track = { ...memory.track, counts: {}, judged: 0 };
    return changes.map((nitrogenPa) => {
      const frame = frameOf(chamber, { 28: nitrogenPa, 14: 0.07 * nitrogenPa }, { memory, times: 1 });
      judgeLanes(frame, advanceLanes(frame), frame.triggers);
      return memory.track.counts['N2.0.scan'] ?? 0;
    });
  };
  const most = Math.max(...draft(chamber).baselines.base!.mean);
  const [high, gross] = [0.1 * most, 1e3 * most];

  test('counts for two: what is there from the start was there before', () => {
    expect(counts('gas-on', [high, high])).toEqual([2, 3]);
    expect(counts(null, [high, high])).toEqual([1, 2]);
  });

  test('not of something gross, which asks for two scans in any case: one may be a puff', () => {
    expect(counts('gas-on', [gross, gross])).toEqual([1, 2]);
  });

  test('the head start is lost with a scan below', () => {
    expect(counts('gas-on', [0, high, high])).toEqual([0, 1, 2]);
  });
});
