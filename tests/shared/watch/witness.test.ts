/** One scan is enough for a gross leak that the gauge shows too; a spike never is. Air: US Standard Atmosphere 1976. */
import { describe, expect, test } from 'vitest';
import { watchScan } from '../../../shared/watch/watch.ts';
import { isWitnessed } from '../../../shared/watch/witness.ts';
import { DAY, HOUR, makeWorld } from '../../support/world/chamber.ts';
import type { Fault } from '../../support/world/faults.ts';
import { draft, frameOf, watched } from '../../support/world/frames.ts';
import { raisedOf, runWorld } from '../../support/world/run.ts';

const chamber = watched(61, {}, 60);
const frame = (change: Record<number, number>, gauge: number) =>
  frameOf(chamber, { ...change, gauge }, { memory: draft(chamber), times: 1 });
const usual = frame({}, 0).reference.spectrum[0]!;
/** Nitrogen 28, 14 and 29 by the handbook ratios 100 : 7.2 : 0.8, argon and oxygen of air. */
const airOf = (nitrogenPa: number) => ({
  28: nitrogenPa,
  14: 0.072 * nitrogenPa,
  29: 0.008 * nitrogenPa,
  32: 0.21 * nitrogenPa,
  40: 0.015 * nitrogenPa,
});
const direction = frame({}, 0).triggers.find(({ cause }) => cause.id === 'air')!.direction;
const amplitudeOf = (nitrogenPa: number) => nitrogenPa / direction.dense[frame({}, 0).baseline.masses.indexOf(28) + 1]!;

describe('gauge and spectrum say the same', () => {
  const gas = 12 * usual;
  const amplitude = amplitudeOf(gas);
  const foretold = amplitude * direction.dense[0]!;
  const seen = (change: Record<number, number>, gauge: number) =>
    isWitnessed(frame(change, gauge), direction, amplitude);

  test('several peaks of air, and the gauge by what air adds', () => {
    expect(seen(airOf(gas), foretold)).toBe(true);
    expect(seen(airOf(gas), 1.6 * foretold)).toBe(true);
  });

  test('not with a gauge that stays, or that rises by something else', () => {
    expect(seen(airOf(gas), 0)).toBe(false);
    expect(seen(airOf(gas), 0.3 * foretold)).toBe(false);
    expect(seen(airOf(gas), 4 * foretold)).toBe(false);
  });

  test('not while the pressure has not risen tenfold', () => {
    const little = 4 * usual;
    const of = amplitudeOf(little);
    expect(isWitnessed(frame(airOf(little), of * direction.dense[0]!), direction, of)).toBe(false);
  });

  test('never one mass alone', () => {
    expect(seen({ 28: gas }, foretold)).toBe(false);
    expect(seen({ 28: gas, 14: 0.07 * gas }, foretold)).toBe(false);
  });

  test('not where no gauge is', () => {
    const bare = watched(62, { hasGauge: false }, 60);
    const without = frameOf(bare, airOf(gas), { times: 1 });
    const air = without.triggers.find(({ cause }) => cause.id === 'air')!;
    expect(isWitnessed(without, air.direction, amplitude)).toBe(false);
  });
});

describe('in the stream', () => {
  const from = 2 * HOUR;
  const calm = { quietTimetable: true, mishaps: false } as const;
  const firstScan = (hasGauge: boolean, fault: Omit<Fault, 'fromSeconds'>) => {
    const world = makeWorld(63, { kind: 'baked', periodSeconds: 60, hasGauge });
    const run = runWorld(world, { ...calm, days: (from + 20 * 60) / DAY, fault: { ...fault, fromSeconds: from } });
    const [first] = raisedOf(run);
    return first && [first.event.signature, (first.seconds - from) / 60 + 1];
  };

  test('a gross leak is called with its first scan where the gauge confirms it, with its second where there is none', () => {
    const gross = { kind: 'air', size: 2000, oxygen: 0.9 } as const;
    expect(firstScan(true, gross)).toEqual(['air-leak', 1]);
    expect(firstScan(false, gross)).toEqual(['air-leak', 2]);
  });

  test('one spiked peak is not called, however high', () => {
    const world = makeWorld(64, { kind: 'baked', periodSeconds: 60, hasGauge: true });
    for (const mass of [28, 57]) {
      const run = runWorld(world, { ...calm, days: (from + 20 * 60) / DAY, spike: { at: from, mass, scans: 1 } });
      expect(raisedOf(run)).toEqual([]);
    }
  });
});

test('the watch keeps its memory in JSON', () => {
  const { memory } = watchScan(chamber.memory, chamber.context, chamber.last);
  expect(JSON.parse(JSON.stringify(memory))).toEqual(memory);
});
