/** Peaks of a profile that leave their masses: positions are laid over the analysis by construction. */
import { describe, expect, test } from 'vitest';
import { followMassScale } from '../../../shared/watch/massScale.ts';
import { emptyMemory, type Memory } from '../../../shared/watch/memory.ts';
import { ownCauses } from '../../../shared/watch/ownCauses.ts';
import { referenceNow } from '../../../shared/watch/reference.ts';
import { forget } from '../../../shared/watch/standing.ts';
import type { WatchEvent } from '../../../shared/watch/types.ts';
import { DAY, HOUR, makeWorld } from '../../support/world/chamber.ts';
import { draft, watched } from '../../support/world/frames.ts';
import { streamOf, watchStream } from '../../support/world/stream.ts';

const MINUTE = 60;
const chamber = watched(341);

/** Positions one after another, a minute apart. */
function follow(places: readonly { offsetU: number; slope?: number }[], memory: Memory = emptyMemory('1', 'base', 0)) {
  const said: { scan: number; event: WatchEvent }[] = [];
  let doubtful = false;
  places.forEach(({ offsetU, slope = 0 }, scan) => {
    const measurement = { ...chamber.last.analysis.measurement!, massScale: { offsetU, slope, pivot: 28 } };
    const input = { ...chamber.last, analysis: { ...chamber.last.analysis, measurement } };
    const verdict = followMassScale(memory, input, 60);
    doubtful = verdict.doubtful;
    said.push(...verdict.events.map((event) => ({ scan, event })));
  });
  return { said: said.map(({ event, scan }) => `${event.kind} ${scan}`), events: said, doubtful, memory };
}
const stay = (offsetU: number, scans: number) => Array.from({ length: scans }, () => ({ offsetU }));

describe('where peaks stand', () => {
  test('0.22 u away from the usual 0.02 u: after eight scans, with the numbers', () => {
    const { said, events } = follow([...stay(0.02, 40), ...stay(0.24, 20)]);
    // The middle of three moves one scan later.
    expect(said).toEqual(['raised 48']);
    const { event } = events[0]!;
    if (event.kind === 'returned') throw new Error('raised events carry a finding');
    expect(event).toMatchObject({ signature: 'mass-shift', priority: 'medium' });
    expect(event.finding.summary).toMatch(/stands 0\.24\u00a0u above its mass, usually 0\.02\u00a0u above/);
    const values = event.finding.evidence.map(({ value }) => value);
    expect(values[0]).toBeCloseTo(0.24, 6);
    expect(event.finding.evidence.map(({ name }) => name)).toContain('Slope of the mass scale');
    expect(values.at(-1)).toBeGreaterThan(3);
  });

  test('moved by more than 0.2 u, though nearer than that to the masses', () => {
    expect(follow([...stay(-0.12, 40), ...stay(0.13, 20)]).said).toEqual(['raised 48']);
  });

  test('beyond 0.2 u from the first scans on', () => {
    expect(follow(stay(0.25, 20)).said).toEqual(['raised 7']);
  });

  test('a slope that only heavy peaks feel', () => {
    const sloped = Array.from({ length: 20 }, () => ({ offsetU: 0, slope: 0.02 }));
    expect(follow([...stay(0, 40), ...sloped]).said).toEqual(['raised 48']);
  });

  test.each([
    ['0.15 u', [...stay(0, 40), ...stay(0.15, 40)]],
    ['seven scans of 0.3 u', [...stay(0, 40), ...stay(0.3, 7), ...stay(0, 40)]],
    ['a calibration that brings the scale back to its masses', [...stay(0.19, 40), ...stay(-0.02, 40)]],
    ['one wild scan in ten', Array.from({ length: 60 }, (_, i) => ({ offsetU: i % 10 ? 0.01 : 0.4 }))],
  ])('%s is nothing', (_what, places) => expect(follow(places).said).toEqual([]));

  test('creeps over weeks: the usual does not follow as fast', () => {
    const memory = emptyMemory('1', 'base', 0);
    const measurement = chamber.last.analysis.measurement!;
    let raisedAt = 0;
    for (let hour = 0; hour < 20 * 24 && raisedAt === 0; hour++) {
      const offsetU = -0.1 + (0.35 * hour) / (20 * 24);
      const massScale = { offsetU, slope: 0, pivot: 28 };
      const input = {
        ...chamber.last,
        analysis: { ...chamber.last.analysis, measurement: { ...measurement, massScale } },
      };
      if (followMassScale(memory, input, HOUR).events.length > 0) raisedAt = offsetU;
    }
    expect(raisedAt).toBeGreaterThan(0.1);
    expect(raisedAt).toBeLessThan(0.2);
  });

  test('returns with a dead band, and begins a new usual place', () => {
    const { said, memory } = follow([...stay(0, 40), ...stay(0.25, 20), ...stay(0.18, 20), ...stay(0.05, 10)]);
    expect(said).toEqual(['raised 48', 'returned 85']);
    expect(memory.instrument.massScale.usual!.zero).toBeCloseTo(0.05, 2);
  });

  test('closed by a person: the place is accepted while it is near the masses', () => {
    const { memory } = follow([...stay(-0.12, 40), ...stay(0.13, 20)]);
    forget(memory, ['mass-shift']);
    expect(follow(stay(0.13, 40), memory).said).toEqual([]);
  });

  test('near half a unit nobody knows which mass a peak belongs to', () => {
    expect(follow(stay(0.45, 3)).doubtful).toBe(true);
    expect(follow(stay(0.3, 3)).doubtful).toBe(false);
  });

  test('without a position nothing is said', () => {
    const memory = emptyMemory('1', 'base', 0);
    expect(followMassScale(memory, chamber.last, 60)).toEqual({ events: [], doubtful: false });
  });
});

test('a stream whose scale slides: told once, and no gas with it', () => {
  const world = makeWorld(342, { kind: 'baked', periodSeconds: MINUTE });
  const options = { quietTimetable: true, mishaps: false, days: (2.5 * HOUR) / DAY };
  const at = HOUR;
  const stream = streamOf(world, options, {
    measurementAt: (t) => ({ massScale: { offsetU: t < at ? 0.01 : 0.26, slope: 0, pivot: 28 } }),
  });
  const { said, events } = watchStream(world, stream);
  expect(said).toEqual(['raised mass-shift']);
  expect(events[0]!.seconds - at).toBeLessThanOrEqual(9 * MINUTE);
});

test('where the place of peaks is followed, lost height is not called a slid scale', () => {
  const memory = draft(chamber);
  const baseline = memory.baselines.base!;
  const reference = referenceNow(memory, baseline, memory.lastAtMs!);
  const ids = (followed: boolean) => ownCauses(baseline, reference, followed).map(({ id }) => id);
  expect(ids(false)).toContain('mass-shift');
  expect(ids(true)).not.toContain('mass-shift');
  expect(ids(true)).toContain('gain-down');
});
