/** What the watch promises whatever the gas does: the same events in any batching, nothing by late scans, few alerts. */
import { gunzipSync, gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../../shared/analysis/analyse.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import type { WatchContext, WatchEvent, WatchInput, WatchMemory } from '../../../shared/watch/types.ts';
import { baselineViews, watchScan } from '../../../shared/watch/watch.ts';
import { DAY, HOUR, leastDetectableArgonPa, makeWorld, type World } from '../../support/world/chamber.ts';
import { airInflow } from '../../support/world/faults.ts';
import { raisedOf, runWorld } from '../../support/world/run.ts';
import { calibrationOf, contextOf, type RunOptions, scansOf } from '../../support/world.ts';

const MINUTE = 60;
const calm = { quietTimetable: true, mishaps: false } as const;

function inputsOf(world: World, options: RunOptions): WatchInput[] {
  const analyser = makeAnalyser(calibrationOf(world), catalogueFor(contextOf(world).chamber.gases));
  return [...scansOf(world, options)].map(({ scan }) => ({ scan, ...analyser.analyse(scan) }));
}

/** Runs all inputs; the memory goes through gzip and JSON before those whose index is in `cuts`. */
function run(inputs: readonly WatchInput[], context: WatchContext, cuts: ReadonlySet<number> = new Set()) {
  let memory: WatchMemory | null = null;
  const events: WatchEvent[] = [];
  for (const [i, input] of inputs.entries()) {
    if (memory && cuts.has(i))
      memory = JSON.parse(gunzipSync(gzipSync(JSON.stringify(memory))).toString()) as WatchMemory;
    const step = watchScan(memory, context, input);
    memory = step.memory;
    events.push(...step.events);
  }
  return { events, memory: memory as WatchMemory };
}

describe('the same scans give the same alerts', () => {
  const world = makeWorld(71, { kind: 'process', periodSeconds: 300, hasGauge: true });
  const options: RunOptions = {
    days: (10 * HOUR) / DAY,
    mishaps: false,
    spans: [{ from: 3 * HOUR, to: 4 * HOUR, state: 'gas-on' }],
    fault: { kind: 'air', size: 10, fromSeconds: 7 * HOUR, oxygen: 0.7 },
  };
  const inputs = inputsOf(world, options);
  const context = contextOf(world);
  const whole = run(inputs, context);

  test('the story has something to tell', () => {
    expect(whole.events.map(({ kind, signature }) => `${kind} ${signature}`)).toContain('raised air-leak');
  });

  test('whatever the batching: memory through gzip and JSON at any places', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 1, max: inputs.length - 1 }), { maxLength: 12 }), (places) => {
        const cut = run(inputs, context, new Set(places));
        expect(cut.events).toEqual(whole.events);
        expect(JSON.stringify(cut.memory)).toBe(JSON.stringify(whole.memory));
      }),
      { numRuns: 6 },
    );
  });

  test('one scan a batch', () => {
    const cut = run(inputs, context, new Set(inputs.keys()));
    expect(cut.events).toEqual(whole.events);
  });

  test('a late or doubled scan moves nothing', () => {
    const half = Math.floor(inputs.length / 2);
    const before = run(inputs.slice(0, half), context).memory;
    for (const i of [0, half - 2, half - 1]) {
      const step = watchScan(before, context, inputs[i]!);
      expect(step.events).toEqual([]);
      expect(JSON.stringify(step.memory)).toBe(JSON.stringify(before));
    }
  });

  test('the memory that was given stays as it was', () => {
    const before = run(inputs.slice(0, 100), context).memory;
    const text = JSON.stringify(before);
    run(inputs.slice(100), context);
    watchScan(before, context, inputs[100]!);
    expect(JSON.stringify(before)).toBe(text);
  });

  test('the memory is small enough to be kept with every batch, and holds no number that JSON does not know', () => {
    const text = JSON.stringify(whole.memory);
    expect(gzipSync(text).length).toBeLessThan(60 * 1024);
    expect(JSON.parse(text)).toEqual(whole.memory);
  });
});

/** Paths of all numbers that JSON would turn into null. */
function unknownNumbers(value: unknown, path = 'memory'): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [path];
  if (value === null || typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, inner]) => unknownNumbers(inner, `${path}.${key}`));
}

test.each([101, 102, 103, 104, 105, 5003])('chamber %i is remembered in finite numbers', (seed) => {
  const { last } = runWorld(makeWorld(seed), { days: 0.4 });
  expect(unknownNumbers(last!.memory)).toEqual([]);
});

describe('few alerts', () => {
  const quiet = (seed: number, options: Parameters<typeof makeWorld>[1], run: RunOptions) =>
    raisedOf(runWorld(makeWorld(seed, options), run)).map(({ event }) => event.signature);

  test.each([1, 60, 1800])('nothing on a quiet chamber that is scanned every %i s', (periodSeconds) => {
    expect(quiet(81, { periodSeconds, hasGauge: true }, { ...calm, days: (300 * periodSeconds) / DAY })).toEqual([]);
  });

  test('nothing through a vent, its pump-down and its tail', () => {
    const spans = [
      { from: 5 * HOUR, to: 7 * HOUR, state: 'vented' },
      { from: 7 * HOUR, to: 15 * HOUR, state: 'pump-down' },
    ];
    for (const seed of [82, 83, 84]) {
      expect(quiet(seed, { kind: 'unbaked', periodSeconds: 300 }, { ...calm, days: 2, spans })).toEqual([]);
    }
  });

  test('nothing through gas steps, transfers and the tails that they leave', () => {
    const spans = [4, 9, 14, 19].map((hour) => ({ from: hour * HOUR, to: (hour + 1.5) * HOUR, state: 'gas-on' }));
    const transfers = [5, 11, 17].map((hour) => ({ from: hour * HOUR, to: (hour + 0.3) * HOUR, state: 'transfer' }));
    for (const seed of [85, 86]) {
      expect(quiet(seed, { kind: 'process', periodSeconds: 300 }, { ...calm, days: 1, spans })).toEqual([]);
      expect(quiet(seed, { kind: 'unbaked', periodSeconds: 300 }, { ...calm, days: 1, spans: transfers })).toEqual([]);
    }
  });

  test('one fault, one alert, through gaps, spikes, late and doubled scans', () => {
    for (const seed of [87, 88]) {
      const world = makeWorld(seed, { kind: 'baked', periodSeconds: 300 });
      const fault = { kind: 'air', size: 10, fromSeconds: 1 * DAY, oxygen: 0.6 } as const;
      expect(
        raisedOf(runWorld(world, { days: 3, quietTimetable: true, fault })).map(({ event }) => event.signature),
      ).toEqual(['air-leak']);
    }
  });
});

describe('a leak from beginning to end', () => {
  const world = makeWorld(91, { kind: 'baked', periodSeconds: MINUTE, hasGauge: true, unit: 'A' });
  const from = 40 * MINUTE;
  const until = 80 * MINUTE;
  const { events } = runWorld(world, {
    ...calm,
    days: (2 * HOUR) / DAY,
    fault: { kind: 'air', size: 30, fromSeconds: from, untilSeconds: until, oxygen: 0.8 },
  });

  test('is raised within three scans, and returns five scans after it is mended', () => {
    const raised = events.find(({ event }) => event.kind === 'raised')!;
    expect(raised.seconds - from).toBeLessThanOrEqual(2 * MINUTE);
    const returned = events.find(({ event }) => event.kind === 'returned')!;
    expect(returned.seconds - until).toBeGreaterThanOrEqual(4 * MINUTE);
    expect(returned.seconds - until).toBeLessThanOrEqual(8 * MINUTE);
    expect(events.filter(({ event }) => event.kind === 'raised')).toHaveLength(1);
  });

  test('says what a colleague would say, with the numbers behind it', () => {
    const { event } = events.find(({ event: { kind } }) => kind === 'raised')!;
    if (event.kind === 'returned') throw new Error('raised events carry a finding');
    expect(event).toMatchObject({ signature: 'air-leak', gases: ['N2', 'O2', 'Ar'], priority: 'high' });
    expect(event.finding.summary).toMatch(
      /^Air is leaking in: .+×10.+\u00a0Pa·m³\/s \(.+\), measured by argon\. Nearly certain\.$/,
    );
    expect(event.finding.firstStep).toMatch(/^First /);
    const names = event.finding.evidence.map(({ name }) => name);
    for (const name of ['Air by argon', 'Air by nitrogen', '14/28 of what came in', '40/28 of what came in']) {
      expect(names).toContain(name);
    }
    expect(event.finding.alternatives.length).toBeGreaterThan(0);
    expect(event.finding.alternatives[0]!.signature).not.toBe('air-leak');
  });
});

describe('the leak rate', () => {
  test('holds the true inflow of air in its interval', () => {
    // Q = P S / x in steady state: the world lets in Q and lets the pumps take it.
    const seeds = Array.from({ length: 24 }, (_, i) => 400 + i);
    const held = seeds.filter((seed) => {
      const world = makeWorld(seed, { kind: 'baked', periodSeconds: MINUTE });
      const fault = { kind: 'air', size: 30, fromSeconds: 40 * MINUTE, oxygen: 0.5 } as const;
      const { events } = runWorld(world, { ...calm, days: (45 * MINUTE) / DAY, fault });
      const raised = events.find(({ event }) => event.kind === 'raised')?.event;
      if (!raised || raised.kind === 'returned' || !raised.finding.leakRate) return false;
      const truth = airInflow(world, 30 * leastDetectableArgonPa(world));
      const { low, high } = raised.finding.leakRate;
      return low <= truth && truth <= high;
    });
    // A 95 % interval: 20 of 24 or fewer would have a chance of three in a hundred.
    expect(held.length).toBeGreaterThanOrEqual(21);
  });
});

describe('what people and documents do', () => {
  const world = makeWorld(95, { kind: 'baked', periodSeconds: MINUTE, hasGauge: true });
  const fault = { kind: 'water', size: 3, fromSeconds: 40 * MINUTE } as const;
  const inputs = inputsOf(world, { ...calm, days: (2 * HOUR) / DAY, fault });
  const context = contextOf(world);

  test('an alert that a person has closed is raised again after its on-delay if the condition stands', () => {
    const { memory } = run(inputs.slice(0, 60), context);
    const closed: WatchContext = { ...context, closedByPerson: ['water'] };
    const first = watchScan(memory, closed, inputs[60]!);
    expect(first.events).toEqual([]);
    let step = first;
    const events: WatchEvent[] = [];
    for (const input of inputs.slice(61, 66)) {
      step = watchScan(step.memory, context, input);
      events.push(...step.events);
    }
    expect(events.map(({ kind, signature }) => `${kind} ${signature}`)).toEqual(['raised water']);
  });

  test('another version of the calibration that changes no number changes nothing', () => {
    const { memory } = run(inputs.slice(0, 60), context);
    const renamed: WatchContext = { ...context, calibration: { ...context.calibration, version: '2' } };
    const step = watchScan(memory, renamed, inputs[60]!);
    expect(step.notes).toEqual([]);
    expect(step.learning).toBeNull();
    expect(step.events).toEqual([]);
  });

  test('a memory that does not know what it was learned with: learned anew, said so, and what stood goes on standing', () => {
    const { memory } = run(inputs.slice(0, 60), context);
    const { instrument: _, ...old } = memory;
    const recalibrated: WatchContext = { ...context, calibration: { ...context.calibration, version: '2' } };
    const first = watchScan(old, recalibrated, inputs[60]!);
    expect(first.notes.map(({ code }) => code)).toEqual(['baseline-new']);
    expect(first.learning).toEqual({ have: 1, need: 12 });
    let step = first;
    const events: WatchEvent[] = [];
    for (const input of inputs.slice(61, 100)) {
      step = watchScan(step.memory, recalibrated, input);
      events.push(...step.events);
    }
    expect(events).toEqual([]);
    expect(step.learning).toBeNull();
  });

  test('fewer masses for a while are judged as far as they go; for good, they are learned anew', () => {
    const first = run(inputs.slice(0, 30), context).memory;
    const narrow = inputs.slice(30, 60).map(({ scan, ...rest }) => {
      const masses = Array.from({ length: 40 }, (_, i) => i + 1);
      const cut = { ...scan, masses, values: scan.values.slice(0, 40) };
      return { ...rest, scan: cut, ...makeAnalyser(context.calibration, catalogueFor([])).analyse(cut) };
    });
    let step = watchScan(first, context, narrow[0]!);
    const said: string[] = [];
    for (const input of narrow.slice(1)) {
      step = watchScan(step.memory, context, input);
      said.push(...step.notes.map(({ code }) => code));
    }
    expect(said).toEqual(['baseline-new', 'young-baseline']);
    expect(step.learning).toBeNull();
  });

  test('a new chamber says how much it has learned, and is watched after twelve scans', () => {
    let memory: WatchMemory | null = null;
    const notes: string[] = [];
    const learning = inputs.slice(0, 40).map((input) => {
      const step = watchScan(memory, context, input);
      memory = step.memory;
      notes.push(...step.notes.map(({ text }) => text));
      return step.learning;
    });
    expect(learning.slice(0, 11)).toEqual(Array.from({ length: 11 }, (_, i) => ({ have: i + 1, need: 12 })));
    expect(learning.slice(11).every((step) => step === null)).toBe(true);
    // Said once, and not with every scan.
    expect(notes.length).toBe(1);
    expect(notes[0]).toMatch(/^Watched since 2031-01-06 \d\d:\d\d UTC .* wide until about 2 days /);
  });

  test('baselines for drawing: per state, with medians, spread and peaks', () => {
    const { memory } = run(inputs.slice(0, 40), context);
    const [view] = baselineViews(memory);
    expect(view).toMatchObject({ state: 'base' });
    const water = view!.gases.H2O!;
    expect(10 ** water.medianLog10Pa / world.pressures.H2O!).toBeGreaterThan(0.4);
    expect(10 ** water.medianLog10Pa / world.pressures.H2O!).toBeLessThan(2.5);
    expect(water.halfWidthDecades).toBeGreaterThanOrEqual(0.1);
    expect(water.scans).toBe(40);
    expect(view!.peaks[18]).toBeGreaterThan(0);
  });

  test('the strip shows how far a gas stands from its usual, in decades', () => {
    const before = watchScan(run(inputs.slice(0, 39), context).memory, context, inputs[39]!);
    const after = watchScan(run(inputs.slice(0, 50), context).memory, context, inputs[50]!);
    const mark = (step: typeof before) => step.strip.find(({ gas }) => gas === 'H2O')!;
    expect(Math.abs(mark(before).decades!)).toBeLessThan(0.1);
    // The raw height at m/z 18 says how much more water there is.
    const height = (i: number) => inputs[i]!.scan.values[17]!;
    const decades = Math.log10(height(50) / height(39));
    expect(decades).toBeGreaterThan(0.3);
    expect(mark(after).decades!).toBeCloseTo(decades, 1);
  });
});
