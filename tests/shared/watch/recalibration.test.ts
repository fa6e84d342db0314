/**
 * Another calibration in mid-stream, on simulated chambers: what was entered, and whether the analyser itself has changed
 * with it, are known by construction.
 */
import { describe, expect, test } from 'vitest';
import type { Calibration } from '../../../shared/analysis/types.ts';
import { followCalibration } from '../../../shared/watch/recalibration.ts';
import type { Note } from '../../../shared/watch/relearn.ts';
import { rescaleMemory } from '../../../shared/watch/rescale.ts';
import { scaleChange, scaleOf } from '../../../shared/watch/scale.ts';
import { DAY, HOUR, makeWorld } from '../../support/world/chamber.ts';
import { draft, watched } from '../../support/world/frames.ts';
import { streamOf, watchStream } from '../../support/world/stream.ts';
import { calibrationOf, type RunOptions } from '../../support/world.ts';

const MINUTE = 60;
const AT = 70 * MINUTE;
const options = (more: Partial<RunOptions> = {}): RunOptions => ({
  quietTimetable: true,
  mishaps: false,
  days: (2.5 * HOUR) / DAY,
  ...more,
});
const worldOf = (seed: number) => makeWorld(seed, { kind: 'baked', periodSeconds: MINUTE, unit: 'A', hasGauge: true });

function run(seed: number, later: (usual: Calibration) => Partial<Calibration>, more: Partial<RunOptions> = {}) {
  const world = worldOf(seed);
  const calibrationAt = (t: number, usual: Calibration) =>
    t < AT ? usual : { ...usual, ...later(usual), version: 'later' };
  return watchStream(world, streamOf(world, options(more), { calibrationAt }));
}

const sensitivity = (factor: number) => (usual: Calibration) => ({
  sensitivityAmperesPerPascal: usual.sensitivityAmperesPerPascal! * factor,
});

describe('a new sensitivity', () => {
  test.each([1.5, 0.5])('%f times the old one: no alert, nothing learned anew, a flat strip', (factor) => {
    for (const seed of [321, 322]) {
      const { said, notes, steps } = run(seed, sensitivity(factor));
      expect(said, `seed ${seed}`).toEqual([]);
      expect(notes).toEqual(['baseline-carried']);
      expect(steps.slice(12).every(({ learning }) => learning === null)).toBe(true);
      // The same chamber without the new number shows the same strip.
      const same = watchStream(worldOf(seed), streamOf(worldOf(seed), options())).steps;
      steps.slice(60).forEach(({ strip }, i) => {
        const marks = new Map(same[60 + i]!.strip.map((mark) => [mark.gas, mark]));
        for (const { gas, status, decades } of strip) {
          const other = marks.get(gas)!;
          if (status !== 'measured' || other.status !== 'measured') continue;
          expect(Math.abs(decades! - other.decades!), gas).toBeLessThan(0.02);
        }
      });
    }
  });

  test('a real leak that begins at the same moment is still found', () => {
    for (const seed of [323, 324, 325]) {
      const fault = { kind: 'air', size: 30, fromSeconds: AT, oxygen: 0.6 } as const;
      const { said, events } = run(seed, sensitivity(1.5), { fault });
      expect(
        said.filter((word) => word.startsWith('raised')),
        `seed ${seed}`,
      ).toEqual(['raised air-leak']);
      expect(events[0]!.seconds - AT).toBeLessThanOrEqual(5 * MINUTE);
    }
  });

  test('what stands goes on standing, and returns when it is mended', () => {
    const fault = { kind: 'water', size: 3, fromSeconds: AT - 20 * MINUTE, untilSeconds: AT + 30 * MINUTE } as const;
    const { said, events } = run(326, sensitivity(1.5), { fault });
    expect(said.filter((word) => !word.startsWith('updated'))).toEqual(['raised water', 'returned water']);
    expect(events.at(-1)!.seconds).toBeGreaterThan(AT + 30 * MINUTE);
  });

  test('that describes a change of the analyser itself: the heights have not moved, and nothing is carried', () => {
    const world = worldOf(327);
    // Twice the emission, and twice the sensitivity on record.
    const stream = streamOf(world, options({ gainStep: { at: AT, by: Math.log(2) } }), {
      calibrationAt: (t, usual) => (t < AT ? usual : { ...usual, ...sensitivity(2)(usual), version: 'later' }),
    });
    const { said, notes } = watchStream(world, stream);
    expect(said).toEqual([]);
    expect(notes).toEqual([]);
  });

  test('that fits neither: learned anew', () => {
    const world = worldOf(328);
    const stream = streamOf(world, options({ gainStep: { at: AT, by: Math.log(5) } }), {
      calibrationAt: (t, usual) => (t < AT ? usual : { ...usual, ...sensitivity(2)(usual), version: 'later' }),
    });
    expect(watchStream(world, stream).notes).toEqual(['baseline-new']);
  });
});

describe('a new transmission', () => {
  test('moves every mass by its own factor, and the baseline with it', () => {
    for (const seed of [329, 330]) {
      const { said, notes, steps } = run(seed, () => ({ transmissionExponent: 0.7 }));
      expect(said, `seed ${seed}`).toEqual([]);
      expect(notes).toEqual(['baseline-carried']);
      expect(steps.slice(12).every(({ learning }) => learning === null)).toBe(true);
    }
  });
});

describe('patterns and background', () => {
  test('do not touch the heights: the spectrum goes on being watched, the usual of gases begins anew', () => {
    const pattern = {
      gas: 'N2',
      peaks: { 28: 100, 14: 12, 29: 0.7 },
      fragmentUncertainty: 0.03,
      responseAtLargest: null,
      responseUncertainty: null,
    };
    const { said, notes, steps } = run(331, () => ({ patterns: [pattern] }));
    expect(said).toEqual([]);
    expect(notes).toEqual(['gases-new']);
    expect(steps.slice(12).every(({ learning }) => learning === null)).toBe(true);
    const fault = { kind: 'air', size: 30, fromSeconds: AT, oxygen: 0.6 } as const;
    expect(run(331, () => ({ patterns: [pattern] }), { fault }).said).toContain('raised air-leak');
  });

  test('a factor of the gauge moves no height and no gas', () => {
    expect(run(332, () => ({ gaugeFactor: 1.2 })).notes).toEqual([]);
  });
});

describe('the scale of heights', () => {
  const usual = calibrationOf(worldOf(333));
  const change = (later: Partial<Calibration>, unit: 'A' | 'Pa' | '1') =>
    scaleChange(scaleOf(usual, { unit }), scaleOf({ ...usual, ...later }, { unit }));

  test('currents: height = current · (m/28)^t / S', () => {
    const moved = change({ ...sensitivity(2)(usual), transmissionExponent: 1 }, 'A')!;
    expect(moved.factorAt(28)).toBeCloseTo(0.5, 12);
    expect(moved.factorAt(56)).toBeCloseTo(1, 12);
  });

  test('an analyser that sends pressures has its own scale', () => {
    expect(change(sensitivity(2)(usual), 'Pa')).toMatchObject({ moves: false, loose: false });
  });

  test('shares follow the factor of the gauge; with another transmission only the scan can tell', () => {
    expect(change({ gaugeFactor: 1.3 }, '1')!.factorAt(18)).toBeCloseTo(1.3, 12);
    expect(change({ transmissionExponent: 1 }, '1')).toMatchObject({ loose: true, moves: true });
  });

  test('currents without a sensitivity and with one have no factor between them', () => {
    expect(change({ sensitivityAmperesPerPascal: null }, 'A')).toBeNull();
  });
});

test('all that is remembered in heights is carried, mass by mass', () => {
  const chamber = watched(334);
  const [before, after] = [draft(chamber), draft(chamber)];
  rescaleMemory(after, (mass) => (mass === 18 ? 3 : 2));
  const [a, b] = [before.baselines.base!, after.baselines.base!];
  const at = (mass: number) => a.masses.indexOf(mass) + 1;
  expect(b.mean[at(18)]! / a.mean[at(18)]!).toBeCloseTo(3, 9);
  expect(b.mean[at(28)]! / a.mean[at(28)]!).toBeCloseTo(2, 9);
  expect(b.variance[at(18)]! / a.variance[at(18)]!).toBeCloseTo(9, 9);
  expect(b.mean[0]).toBe(a.mean[0]);
  expect(b.gases.H2O!.middle - a.gases.H2O!.middle).toBe(Math.round(1000 * Math.log10(3)));
  expect(after.quality.lastTwo[0]![at(28)]! / before.quality.lastTwo[0]![at(28)]!).toBeCloseTo(2, 9);
  const ratio = after.impossible.kappa! / before.impossible.kappa!;
  expect(ratio).toBeGreaterThan(1 / 3);
  expect(ratio).toBeLessThan(1 / 2);
});

describe('one scan under another calibration', () => {
  const chamber = watched(335, { unit: 'A' });
  const recalibrated = (
    later: Partial<Calibration>,
    prepare: (memory: ReturnType<typeof draft>) => void = () => {},
  ) => {
    const memory = draft(chamber);
    prepare(memory);
    const notes: Note[] = [];
    const calibration = { ...chamber.context.calibration, version: 'later', ...later };
    followCalibration({ memory, context: { ...chamber.context, calibration }, input: chamber.last, notes });
    return { memory, codes: notes.map(({ code }) => code) };
  };
  const halved = sensitivity(0.5)(chamber.context.calibration);

  test('the heights have not moved: the number describes the analyser, and nothing is carried', () => {
    const { memory, codes } = recalibrated(halved);
    expect(codes).toEqual([]);
    expect(memory.baselines.base!.mean).toEqual(draft(chamber).baselines.base!.mean);
    expect(memory.instrument.scale!.sensitivity).toBe(halved.sensitivityAmperesPerPascal);
  });

  test('while another state begins nothing can be seen: the number is believed', () => {
    const { memory, codes } = recalibrated(halved, (before) => {
      before.state = 'gas-on';
    });
    expect(codes).toEqual(['baseline-carried']);
    expect(memory.baselines.base!.mean[18]! / draft(chamber).baselines.base!.mean[18]!).toBeCloseTo(2, 9);
  });

  test('no scale is known: learned anew', () => {
    const { memory, codes } = recalibrated(halved, (before) => {
      before.instrument.scale = null;
    });
    expect(codes).toEqual(['baseline-new']);
    expect(memory.baselines).toEqual({});
  });
});
