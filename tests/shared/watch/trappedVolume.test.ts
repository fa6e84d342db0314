/** Conditions that stand, with a known course. */
import { describe, expect, test } from 'vitest';
import type { Memory, Standing } from '../../../shared/watch/memory.ts';
import { followShapes, shapeKnown } from '../../../shared/watch/trappedVolume.ts';
import { shapeSaid, withShape } from '../../../shared/watch/trappedVolumeSaid.ts';
import type { Finding } from '../../../shared/watch/types.ts';
import { makeWorld } from '../../support/world/chamber.ts';
import { draft, frameOf, watched } from '../../support/world/frames.ts';
import { makeRandom } from '../../support/world/random.ts';
import { runWorld } from '../../support/world/run.ts';

const chamber = watched(31, { kind: 'unbaked' });
const base = frameOf(chamber, {});
const MINUTE_MS = 60_000;

function standing(memory: Memory, signature: string, cause: string): Standing {
  const direction = new Array<number>(memory.baselines.base!.mean.length).fill(0);
  return {
    signature,
    cause,
    gases: [],
    priority: 'high',
    state: 'base',
    lane: 'scan',
    raisedAtMs: memory.lastAtMs!,
    direction,
    observed: null,
    observedAmplitude: 1,
    amplitude: 1,
    raisedAmplitude: 1,
    peakAmplitude: 1,
    leastAmplitude: 0.1,
    below: 0,
    moved: 0,
    reportedAmplitude: 1,
    reportedAtMs: 0,
    reportedScans: 0,
    sureness: 'likely',
    scans: 0,
    held: false,
  } as Standing;
}

interface Course {
  readonly signature?: string;
  readonly cause?: string;
  readonly hours: number;
  readonly at: (hours: number) => number;
  readonly celsius?: (hours: number) => number;
  readonly noise?: number;
}

function follow({ signature = 'air-leak', cause = 'air', hours, at, celsius, noise = 0.05 }: Course) {
  const memory = draft(chamber);
  memory.ventEndedAtMs = memory.lastAtMs! - 5 * 3_600_000;
  const stands = standing(memory, signature, cause);
  memory.standing = [stands];
  const random = makeRandom(5);
  const turns: number[] = [];
  for (let minute = 0; minute < hours * 60; minute += 5) {
    stands.amplitude = at(minute / 60) * Math.exp(noise * random.normal());
    if (celsius) memory.temperatureC = celsius(minute / 60);
    const atMs = stands.raisedAtMs + minute * MINUTE_MS;
    if (followShapes({ ...base, memory, atMs }).length > 0) turns.push(minute / 60);
  }
  return { memory, stands, turns };
}

const finding: Finding = {
  summary: 'Air is leaking in: much. Likely.',
  sureness: 'likely',
  firstStep: null,
  settle: null,
  evidence: [],
  alternatives: [],
};

describe('a leak that decays', () => {
  test('is a trapped volume: said once, with its half-life, and less urgent', () => {
    const { memory, stands, turns } = follow({ hours: 72, at: (h) => 0.5 ** (h / 20) });
    expect(turns).toHaveLength(1);
    expect(turns[0]).toBeLessThan(24);
    const said = withShape(memory, stands, { finding, priority: 'high' });
    expect(said.calmed).toBe('low');
    expect(said.finding.summary).toBe(
      'Air is leaking in: much. It halves every 20\u00a0hours since the vent: more likely a trapped volume that empties than a leak through the wall. Likely.',
    );
    expect(said.finding.evidence).toHaveLength(1);
    expect(said.finding.alternatives[0]!.why).toMatch(/leak through the wall would stay/);
  });

  test('after a vent with nitrogen it gives back nitrogen', () => {
    const { memory } = follow({ signature: 'gas-inleak', cause: 'N2', hours: 48, at: (h) => 0.5 ** (h / 15) });
    expect(shapeSaid(memory, 'gas-inleak', 'N2').clause).toMatch(/trapped volume that gives back vent gas/);
  });
});

describe('a leak that stays', () => {
  test('is one through the wall', () => {
    const { memory, stands } = follow({ hours: 60, at: () => 1, noise: 0.03 });
    const said = withShape(memory, stands, { finding, priority: 'high' });
    expect(said.calmed).toBeNull();
    expect(said.finding.summary).toMatch(/a leak through the wall, not a trapped volume\. Likely\.$/);
  });

  test('a tail of the vent that ends in something constant is no trapped volume', () => {
    const { memory } = follow({ hours: 60, at: (h) => 1 + 3 * Math.exp(-h / 1.5), noise: 0.02 });
    expect(shapeKnown(memory, 'air')!.shape).toBe('constant');
  });

  test('a wobble by a fifth over a day is neither', () => {
    const { turns } = follow({ hours: 12, at: (h) => 1 + 0.1 * Math.sin(h / 4) });
    expect(turns).toEqual([]);
  });
});

describe('other gases', () => {
  test('helium that is steady and follows the temperature permeates', () => {
    const celsius = (h: number) => 22 + 2 * Math.sin((2 * Math.PI * h) / 24);
    const at = (h: number) => Math.exp(0.02 * (celsius(h) - 22));
    const { memory } = follow({ signature: 'helium', cause: 'He', hours: 96, at, celsius, noise: 0.01 });
    const said = shapeSaid(memory, 'helium', 'He');
    expect(said.clause).toBe('It is steady and follows the temperature, as permeation does');
    expect(said.evidence.map(({ name }) => name)).toContain('Rise per kelvin of the wall');
  });

  test('water that falls dries, water that stays does not', () => {
    const dries = follow({ signature: 'water', cause: 'H2O', hours: 48, at: (h) => 10 / (10 + h) });
    expect(shapeSaid(dries.memory, 'water', 'H2O').clause).toMatch(/as a wall that dries/);
    const stays = follow({ signature: 'water', cause: 'H2O', hours: 60, at: () => 1, noise: 0.02 });
    expect(shapeSaid(stays.memory, 'water', 'H2O').clause).toMatch(/has not fallen for .*, as a wet wall would/);
  });
});

test('the record reaches back to the beginning in few points, and ends with the condition', () => {
  const { memory, stands } = follow({ hours: 400, at: () => 1 });
  const [series] = memory.overTime.decays;
  expect(series!.points.length).toBeLessThanOrEqual(24);
  expect(series!.points[0]!.hours).toBeLessThan(20);
  memory.standing = [];
  followShapes({ ...base, memory, atMs: stands.raisedAtMs });
  expect(memory.overTime.decays).toEqual([]);
  expect(shapeSaid(memory, 'air-leak', 'air').evidence).toEqual([]);
});

test('through the whole watch: an air leak that decays is said anew, less urgent', () => {
  const world = makeWorld(31, { kind: 'baked', periodSeconds: 600, hasGauge: true });
  const fault = { kind: 'air-trapped', size: 100, fromSeconds: 1.2 * 86_400 } as const;
  const { events } = runWorld(world, { days: 2.4, quietTimetable: true, mishaps: false, fault });
  const air = events.flatMap(({ event }) =>
    event.signature === 'air-leak' && event.kind !== 'returned' ? [event] : [],
  );
  expect(air[0]).toMatchObject({ kind: 'raised', priority: 'high' });
  const told = air.find(({ finding }) => finding.summary.includes('more likely a trapped volume'));
  expect(told).toMatchObject({ kind: 'updated', priority: 'low' });
  expect(told!.finding.summary).toMatch(/It halves every 1[0-4]\u00a0hours: more likely a trapped volume that empties/);
});
