/** What the judging rests on for some scans: remembered, renewed when it must be, and the same after JSON. */
import { describe, expect, test } from 'vitest';
import type { Standing } from '../../../shared/watch/conditions.ts';
import { fallsOf } from '../../../shared/watch/falls.ts';
import { judgingOf, whiteners } from '../../../shared/watch/judging.ts';
import { baselineOf, keep, standingOf } from '../../../shared/watch/kept.ts';
import type { Baseline, Memory } from '../../../shared/watch/memory.ts';
import { nullModel } from '../../../shared/watch/nullModel.ts';
import { ownSpectra } from '../../../shared/watch/ownGases.ts';
import { draft, frameOf, watched } from '../../support/world/frames.ts';

const chamber = watched(51, {}, 120);
const copied = (): { memory: Memory; baseline: Baseline } => {
  const memory = JSON.parse(JSON.stringify(draft(chamber))) as Memory;
  return { memory, baseline: memory.baselines.base! };
};
const input = (memory: Memory) => ({
  memory,
  baseline: memory.baselines.base!,
  atMs: memory.lastAtMs!,
  followed: false,
});

describe('what is kept', () => {
  test('holds for some scans while the mean moves', () => {
    const { memory, baseline } = copied();
    const kept = keep(input(memory));
    baseline.mean = baseline.mean.map((value) => value * 1.001);
    memory.scans += 3;
    expect(keep(input(memory))).toBe(kept);
    memory.scans += 40;
    const next = keep(input(memory));
    expect(next).not.toBe(kept);
    expect(next.mean).toBe(baseline.mean);
  });

  const changes: [string, (memory: Memory, baseline: Baseline) => void][] = [
    [
      'the baseline was shared out anew',
      (_, b) => (b.own = b.own.map((own) => ({ ...own, pressurePa: own.pressurePa * 1.1 }))),
    ],
    ['the gauge stands otherwise to the gases', (_, b) => (b.kappa *= 1.2)],
    ['another detector is in use', (_, b) => (b.inUse = 'faraday')],
    ['the walls are two kelvin warmer', (m) => (m.temperatureC = (m.temperatureC ?? 0) + 2)],
    ['scans come at another period', (m) => (m.periodSeconds = 600)],
    [
      'a condition stands',
      (m) => (m.standing = [{ signature: 'water', cause: 'H2O', raisedAtMs: 1, direction: [1] } as never]),
    ],
  ];
  test.each(changes)('is made anew when %s', (_what, change) => {
    const { memory, baseline } = copied();
    const kept = keep(input(memory));
    expect(keep(input(memory))).toBe(kept);
    change(memory, baseline);
    expect(keep(input(memory))).not.toBe(kept);
  });

  test('a condition that grows renews it in steps', () => {
    const { memory } = copied();
    const standing = {
      signature: 'water',
      cause: 'H2O',
      raisedAtMs: 1,
      direction: null,
      amplitude: 1,
      peakAmplitude: 1,
    };
    memory.standing = [standing as unknown as Standing];
    const kept = keep(input(memory));
    memory.standing[0]!.amplitude = 1.05;
    expect(keep(input(memory))).toBe(kept);
    expect(standingOf(kept, memory)[0]!.amplitude).toBe(1);
    memory.standing[0]!.amplitude = 1.2;
    expect(keep(input(memory))).not.toBe(kept);
  });

  test('gives the baseline as it was, whatever it is now', () => {
    const { memory, baseline } = copied();
    const kept = keep(input(memory));
    const before = JSON.stringify(baselineOf(kept, baseline).mean);
    baseline.mean = baseline.mean.map((value) => 2 * value);
    expect(JSON.stringify(baselineOf(kept, baseline).mean)).toBe(before);
    expect(ownSpectra(baseline)[0]!.channels).toEqual(ownSpectra({ ...baseline, ...kept })[0]!.channels);
  });
});

describe('what follows from it', () => {
  test('is the same after the memory went through JSON', () => {
    const { memory } = copied();
    keep(input(memory));
    const again = JSON.parse(JSON.stringify(memory)) as Memory;
    const frames = [memory, again].map((of) => frameOf(chamber, { 18: 1e-9 }, { memory: of, times: 1 }));
    const [a, b] = frames.map((frame) => {
      const whitener = frame.whitener('scan', null);
      return [
        ...whitener.apply(frame.deviation),
        ...frame.triggers.map((_, i) => whitener.informationAt(frame.triggers, i)),
      ];
    });
    expect(a).toEqual(b);
    expect(frames[0]!.triggers.map(({ key }) => key)).toEqual(frames[1]!.triggers.map(({ key }) => key));
  });

  test('is made once', () => {
    const { memory, baseline } = copied();
    const kept = keep(input(memory));
    const { gasCauses } = frameOf(chamber, {}, { memory, times: 1 });
    const judging = judgingOf({ memory, baseline, kept, gasCauses });
    expect(judgingOf({ memory, baseline, kept, gasCauses })).toBe(judging);
    expect(judging.whitener('mean', null)).toBe(judging.whitener('mean', null));
    expect(judgingOf({ memory, baseline, kept, gasCauses: [...gasCauses] })).not.toBe(judging);
  });
});

describe('gases that have fallen', () => {
  const { memory, baseline } = copied();
  const frame = frameOf(chamber, {}, { memory, times: 1 });
  const { reference } = frame;
  const asked = { memory, baseline, reference, atMs: frame.atMs, lane: 'scan' as const };
  const { weights } = nullModel(asked);
  const water = reference.spectra.findIndex(({ own }) => own.gas === 'H2O');
  const fallen = (share: number) => reference.spectra[water]!.channels.map((value) => -share * value);

  test('are free from three sigma on, in steps; a wobble is not', () => {
    expect(fallsOf(asked, weights, fallen(weights[water]!))).toBeNull();
    const far = fallsOf(asked, weights, fallen(6 * weights[water]!))!;
    expect(far[water]).toBeGreaterThanOrEqual(6 * weights[water]!);
    expect(far[water]).toBeLessThan(6 * 1.5 * weights[water]!);
    expect(far.filter((fall) => fall > 0)).toHaveLength(1);
    expect(fallsOf(asked, weights, fallen(6.01 * weights[water]!))).toEqual(far);
  });

  test('have a model of their own, made once for a step, in which the fall costs next to nothing', () => {
    const whitener = whiteners(asked);
    const plain = whitener('scan', null);
    const change = fallen(6 * weights[water]!);
    const freed = whitener('scan', change);
    expect(whitener('scan', fallen(weights[water]!))).toBe(plain);
    expect(whitener('scan', change)).toBe(freed);
    const cost = (of: typeof plain) => of.apply(change).reduce((sum, value, m) => sum + value * change[m]!, 0);
    expect(cost(freed)).toBeLessThan(2);
    expect(cost(plain)).toBeGreaterThan(5 * cost(freed));
  });
});
