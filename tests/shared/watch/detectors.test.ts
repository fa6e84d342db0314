/**
 * Two detectors on one chamber. The streams are simulated: what the multiplier really multiplies by, and what is on
 * record, are both known by construction.
 */
import { describe, expect, test } from 'vitest';
import { newBaseline } from '../../../shared/watch/baseline.ts';
import { commonStep } from '../../../shared/watch/commonStep.ts';
import { detectorError, scansOnOther, trimOf } from '../../../shared/watch/detectorBook.ts';
import { onDetector } from '../../../shared/watch/detectors.ts';
import { followGainStep } from '../../../shared/watch/gainStep.ts';
import { lastSpectrum } from '../../../shared/watch/lastSpectrum.ts';
import { learnGain } from '../../../shared/watch/learnGain.ts';
import { emptyMemory, type Memory } from '../../../shared/watch/memory.ts';
import { DAY, HOUR, makeWorld } from '../../support/world/chamber.ts';
import { draft, watched } from '../../support/world/frames.ts';
import { type StreamSettings, streamOf, watchStream } from '../../support/world/stream.ts';
import type { RunOptions } from '../../support/world.ts';

const MINUTE = 60;
const SWITCH = 60 * MINUTE;
const calm = { quietTimetable: true, mishaps: false } as const;
const options = (more: Partial<RunOptions>): RunOptions => ({ ...calm, days: (3 * HOUR) / DAY, ...more });
const chamberOf = (seed: number, hasGauge = true) =>
  makeWorld(seed, { kind: 'baked', periodSeconds: MINUTE, unit: 'A', hasGauge });
const toMultiplier = (t: number) => (t < SWITCH ? 'faraday' : 'multiplier') as 'faraday' | 'multiplier';
const toFaraday = (t: number) => (t < SWITCH ? 'multiplier' : 'faraday') as 'faraday' | 'multiplier';
const onRecord = (gain: number): StreamSettings => ({
  calibrationAt: (_t, usual) => ({ ...usual, multiplierGain: gain }),
});

describe('a switch with the right gain', () => {
  test.each([
    ['to the multiplier', toMultiplier, 1],
    ['to a Faraday detector four times as noisy', toFaraday, 4],
    ['to a multiplier a fifth as noisy', toMultiplier, 5],
    ['back and forth every scan', (t: number) => (Math.round(t / MINUTE) % 2 ? 'faraday' : 'multiplier') as never, 3],
  ])('%s: nothing is learned anew, nothing raised', (_what, detectorAt, faradayNoise) => {
    for (const seed of [301, 302, 303]) {
      const world = chamberOf(seed);
      const run = watchStream(
        world,
        streamOf(world, options({ detectorAt, gainAt: () => 1000, faradayNoise }), onRecord(1000)),
      );
      expect(run.said, `seed ${seed}`).toEqual([]);
      expect(run.notes).toEqual([]);
      expect(run.steps.slice(24).every(({ learning }) => learning === null)).toBe(true);
    }
  });

  test('air that begins at the switch is still found, at the same place in time', () => {
    for (const seed of [304, 305]) {
      const world = chamberOf(seed);
      const fault = { kind: 'air', size: 30, fromSeconds: SWITCH, oxygen: 0.6 } as const;
      const run = watchStream(
        world,
        streamOf(world, options({ detectorAt: toMultiplier, gainAt: () => 1000, fault }), onRecord(1000)),
      );
      expect(run.said.filter((said) => said.startsWith('raised'))).toEqual(['raised air-leak']);
      expect(run.events[0]!.seconds - SWITCH).toBeLessThanOrEqual(6 * MINUTE);
    }
  });
});

describe('a switch with a gain on record that does not hold', () => {
  test.each([
    ['to the multiplier, reads 1.5 times', toMultiplier, 1500, 1.5],
    ['to the multiplier, reads 0.6 times', toMultiplier, 600, 0.6],
    ['to the Faraday detector', toFaraday, 1500, 1.5],
  ])('%s: told as the multiplier, with the switch as evidence', (_what, detectorAt, gain, ratio) => {
    for (const [seed, hasGauge] of [
      [306, true],
      [307, false],
    ] as const) {
      const world = chamberOf(seed, hasGauge);
      const run = watchStream(world, streamOf(world, options({ detectorAt, gainAt: () => gain }), onRecord(1000)));
      expect(run.said, `seed ${seed}`).toEqual(['raised sensitivity-drift']);
      const { event, seconds } = run.events[0]!;
      if (event.kind === 'returned') throw new Error('raised events carry a finding');
      expect(seconds - SWITCH).toBeLessThanOrEqual(3 * MINUTE);
      expect(event.finding.summary).toMatch(/the reading stepped when the detector was switched/);
      const shown = event.finding.evidence[0]!;
      expect(shown.name).toMatch(/^Multiplier over Faraday/);
      expect(shown.value! / ratio).toBeCloseTo(1, 1);
      expect(run.steps.at(-1)!.learning).toBeNull();
    }
  });

  test('a leak under it is still found', () => {
    const world = chamberOf(308);
    const fault = { kind: 'air', size: 30, fromSeconds: SWITCH + 20 * MINUTE, oxygen: 0.6 } as const;
    const run = watchStream(
      world,
      streamOf(world, options({ detectorAt: toMultiplier, gainAt: () => 1500, fault }), onRecord(1000)),
    );
    expect(run.said).toEqual(['raised sensitivity-drift', 'raised air-leak']);
  });

  test('eight per cent are not worth a call', () => {
    const world = chamberOf(309);
    const stream = streamOf(world, options({ detectorAt: toMultiplier, gainAt: () => 1080 }), onRecord(1000));
    expect(watchStream(world, stream).said).toEqual([]);
  });

  test('a gain that is measured from a pair of scans carries the baseline over, strip and all', () => {
    // Six hours on the multiplier with 1000 on record; then the pair shows that it was 1400 all the time.
    const world = chamberOf(310);
    const pairFrom = 90 * MINUTE;
    const gainUsed = (t: number) => (t < pairFrom ? 1000 : 1400);
    const stream = streamOf(world, options({ gainAt: () => 1400 }), {
      calibrationAt: (t, usual) => ({ ...usual, multiplierGain: gainUsed(t), version: `${gainUsed(t)}` }),
      measurementAt: (t) => ({
        gain: { value: gainUsed(t), uncertainty: 0.02, from: t < pairFrom ? 'record' : 'pair', atMs: null },
      }),
    });
    // One name for both: here the factor comes from the measurement, not from the calibration on record.
    const renamed = stream.map((entry) => ({ ...entry, calibration: { ...entry.calibration, version: 'same' } }));
    const run = watchStream(world, renamed);
    expect(run.said).toEqual([]);
    expect(run.notes).toEqual(['baseline-carried']);
    const water = run.steps.at(-1)!.strip.find(({ gas }) => gas === 'H2O')!;
    expect(Math.abs(water.decades!)).toBeLessThan(0.05);
  });

  test('a single Faraday scan shows the gain: carried over at the next scan of the multiplier, no alert', () => {
    const world = chamberOf(313);
    const detectorAt = (t: number) => (Math.abs(t - SWITCH) < MINUTE / 2 ? 'faraday' : 'multiplier');
    const stream = streamOf(world, options({ detectorAt, gainAt: () => 1500 }), { ...onRecord(1000), remembers: true });
    const run = watchStream(world, stream);
    expect(run.said).toEqual([]);
    expect(run.notes).toEqual(['baseline-carried']);
  });

  test.each([
    ['the first scan of all', 0],
    ['the sixth', 5],
    ['the tenth', 9],
  ])('a Faraday scan while the chamber is being learned, %s: one scale in the end, no alert', (_what, place) => {
    const world = chamberOf(314);
    const detectorAt = (t: number) => (Math.round(t / MINUTE) % 60 === place ? 'faraday' : 'multiplier');
    const stream = streamOf(world, options({ detectorAt, gainAt: () => 620 }), { ...onRecord(1000), remembers: true });
    const run = watchStream(world, stream);
    expect(run.said).toEqual([]);
    const water = run.steps.at(-1)!.strip.find(({ gas }) => gas === 'H2O')!;
    expect(Math.abs(water.decades!)).toBeLessThan(0.05);
    expect(run.steps[30]!.learning).toBeNull();
  });

  test('the same where the cup is so noisy that only the largest peaks stand out', () => {
    for (const seed of [317, 319]) {
      const world = chamberOf(seed);
      const detectorAt = (t: number) => (Math.round(t / MINUTE) % 40 === 30 ? 'faraday' : 'multiplier');
      const noisy = options({ detectorAt, gainAt: () => 620, faradayNoise: 150 });
      const run = watchStream(world, streamOf(world, noisy, { ...onRecord(1000), remembers: true }));
      expect(run.said, `seed ${seed}`).toEqual([]);
      expect(run.notes).toContain('baseline-carried');
    }
  });

  test('one scan of a detector five hundred times as noisy leaves nothing in what is usual', () => {
    for (const seed of [315, 316]) {
      const world = chamberOf(seed);
      const detectorAt = (t: number) => (Math.round(t / MINUTE) % 30 === 20 ? 'faraday' : 'multiplier');
      const noisy = options({ detectorAt, gainAt: () => 1000, faradayNoise: 500 });
      expect(watchStream(world, streamOf(world, noisy, onRecord(1000))).said, `seed ${seed}`).toEqual([]);
    }
  });

  test('a gain that ages and is followed moves nothing', () => {
    const world = chamberOf(311);
    const gain = (t: number) => 1000 * Math.exp(-t / (10 * HOUR));
    const stream = streamOf(world, options({ gainAt: gain }), {
      calibrationAt: (t, usual) => ({ ...usual, multiplierGain: gain(t), version: `${t}` }),
      measurementAt: (t) => ({ gain: { value: gain(t), uncertainty: 0.01, from: 'pair', atMs: null } }),
    });
    const run = watchStream(
      world,
      stream.map((entry) => ({ ...entry, calibration: { ...entry.calibration, version: 'same' } })),
    );
    expect(run.said).toEqual([]);
    expect(run.notes).toEqual([]);
  });
});

describe('the step of a whole spectrum', () => {
  const masses = [2, 14, 16, 17, 18, 28, 44];
  const before = [0, 10, 1, 4, 20, 100, 30, 8];
  const variance = before.map(() => 1e-4);

  test('is what most clear peaks share: a gas that comes in at the same moment is not taken for it', () => {
    const after = before.map((height, m) => 1.3 * height + (m === 6 ? 200 : m === 2 ? 20 : 0));
    const step = commonStep(before, after, { masses, variance })!;
    expect(step.factor).toBeCloseTo(1.3, 6);
    expect(step).toMatchObject({ peaks: 7, alike: 5 });
  });

  test('needs three clear peaks, and says when they did not move together', () => {
    expect(commonStep(before, before, { masses, variance: before.map(() => 100) })).toBeNull();
    const torn = before.map((height, m) => height * [3, 1, 0.3][m % 3]!);
    expect(commonStep(before, torn, { masses, variance })!.spread).toBeGreaterThan(0.2);
  });
});

describe('in its rooms', () => {
  const chamber = watched(312, { unit: 'A' });
  const scan = (memory: Memory) => ({ ...chamber.last.scan, atMs: memory.lastAtMs! + 60_000 });
  const step = (memory: Memory, detector: 'faraday' | 'multiplier', times = 1) => {
    const baseline = memory.baselines.base!;
    const q = Float64Array.from(baseline.mean, (height, m) => (m === 0 ? height : height * times));
    const input = { ...chamber.last, scan: { ...scan(memory), detector } };
    return onDetector({ memory, context: chamber.context, input, notes: [], baseline, q });
  };

  test('noise is kept per detector, and comes back with it', () => {
    const memory = draft(chamber);
    const baseline = memory.baselines.base!;
    const { variance } = baseline;
    step(memory, 'multiplier');
    step(memory, 'faraday');
    expect(baseline.inUse).toBe('faraday');
    expect(baseline.detectors.multiplier!.variance).toEqual(variance);
    expect(detectorError(baseline)).toBeGreaterThan(0.05);
    expect(scansOnOther(baseline)).toBe(1);
    step(memory, 'multiplier');
    expect(baseline.variance).toEqual(variance);
    expect(detectorError(baseline)).toBe(0);
    expect(scansOnOther(baseline)).toBeNull();
  });

  test('a step at the switch is taken off, and seen', () => {
    const memory = draft(chamber);
    const { q, seen } = step(memory, 'faraday', 0.5);
    expect(seen!.ratio).toBeCloseTo(2, 1);
    expect(trimOf(memory.baselines.base!, 'faraday')).toBeCloseTo(0.5, 1);
    const { mean } = memory.baselines.base!;
    expect(q[18]! / mean[18]!).toBeCloseTo(1, 1);
  });

  test.each([
    ['the heights moved with the gain: they are carried', 2, 2],
    ['the heights stood still: the multiplier itself had changed', 1, 1],
  ])('while it is learned, another gain: %s', (_what, moved, carried) => {
    const memory = draft(chamber);
    const learned = memory.baselines.base!;
    const mean = [...learned.mean];
    const baseline = { ...newBaseline({ masses: learned.masses, scaled: true, detector: 'multiplier', atMs: 0 }) };
    baseline.first = [mean];
    const gains = [1000, 500].map((value) => ({ value, uncertainty: 0.02, from: 'pair', atMs: null }) as const);
    gains.forEach((gain, i) => {
      const measurement = { ...chamber.last.analysis.measurement!, gain };
      const input = {
        ...chamber.last,
        scan: { ...scan(memory), detector: 'multiplier' as const },
        analysis: { ...chamber.last.analysis, measurement },
      };
      const q = Float64Array.from(mean, (height, m) => (m === 0 || i === 0 ? height : height * moved));
      learnGain({ memory, context: chamber.context, input, notes: [], baseline, q });
    });
    expect(baseline.first[0]![18]! / mean[18]!).toBeCloseTo(carried, 9);
    expect(baseline.detectors.multiplier!.gain).toBe(500);
  });

  test('the spectrum before: not across a long gap, and not from another state', () => {
    const memory = draft(chamber);
    const baseline = memory.baselines.base!;
    const at = (seconds: number) => memory.lastAtMs! + seconds * 1000;
    expect(lastSpectrum(memory, baseline, at(60))).not.toBeNull();
    expect(lastSpectrum(memory, baseline, at(7200))).toBeNull();
    memory.stateSinceMs = at(60);
    expect(lastSpectrum(memory, baseline, at(60))).toBeNull();
  });

  test('the alert waits three scans, and returns when a switch shows that the detectors agree again', () => {
    const memory = emptyMemory('1', 'base', 0);
    const seen = { ratio: 1.4, peaks: 6, alike: 6, gauge: 1, gainOnRecord: 1000 };
    const said = (entry: typeof seen | null, measured = false) =>
      followGainStep(memory, 1, { seen: entry, measured }).map(({ kind }) => kind);
    expect([said(seen), said(null), said(null), said(null)]).toEqual([[], [], ['raised'], []]);
    expect([said({ ...seen, ratio: 1.13 }), said({ ...seen, ratio: 1.03 })]).toEqual([[], ['returned']]);
    for (let i = 0; i < 3; i++) said(seen);
    expect(said(null, true)).toEqual(['returned']);
  });
});
