import { describe, expect, test } from 'vitest';
import { fits, measuredMasses, median, middleOf, toChannels, totalOf } from '../../../shared/watch/channels.ts';
import { recentMean } from '../../../shared/watch/frame.ts';
import { driftStrip, learnGases, usualOf, viewsOf } from '../../../shared/watch/gasBaseline.ts';
import { isFrozen } from '../../../shared/watch/judge.ts';
import { type Baseline, draftOf, emptyMemory, sealed } from '../../../shared/watch/memory.ts';
import { fittingBaseline, type Note, relearnAll } from '../../../shared/watch/relearn.ts';
import { advanceClock, changeState, followTemperature } from '../../../shared/watch/timeline.ts';
import { draft, frameOf, watched } from '../../support/world/frames.ts';

const chamber = watched(41);

describe('what is remembered', () => {
  test('of another format is not read: the watch starts anew', () => {
    expect(draftOf(null)).toBeNull();
    expect(draftOf({ format: 999 })).toBeNull();
  });

  test('a draft can be changed without changing what it was drawn from', () => {
    const memory = sealed(emptyMemory('1', 'base', 0));
    const text = JSON.stringify(memory);
    const changed = draftOf(memory)!;
    changed.quality.repeats = 5;
    changed.track.argon.on = true;
    changed.limits.H2O = { above: 1, below: 0 };
    expect(JSON.stringify(memory)).toBe(text);
  });
});

describe('time and state', () => {
  test('the period is the median of the last gaps: a lost scan does not change it, a new period is learned', () => {
    const memory = emptyMemory('1', 'base', 0);
    const at = (seconds: number) => {
      advanceClock(memory, seconds * 1000);
      memory.lastAtMs = seconds * 1000;
      return memory.periodSeconds;
    };
    expect([at(0), at(60), at(120), at(240), at(300)]).toEqual([null, 60, 60, 60, 60]);
    expect([600, 900, 1200, 1500].map(at).at(-1)).toBe(300);
  });

  test('walls follow the hall within an hour or so', () => {
    const memory = emptyMemory('1', 'base', 0);
    followTemperature(memory, 20, 0);
    followTemperature(memory, 26, 1800);
    expect(memory.temperatureC).toBe(23);
    followTemperature(memory, null, 1800);
    expect(memory.temperatureC).toBe(23);
  });

  test('a state begins with clean counters, and knows where it came from', () => {
    const memory = emptyMemory('1', 'base', 0);
    memory.track.counts = { 'air.0.scan': 2 };
    changeState(memory, 'gas-on', 1000);
    expect(memory).toMatchObject({ state: 'gas-on', previousState: 'base', stateSinceMs: 1000, gasSeen: true });
    expect(memory.track.counts).toEqual({});
    changeState(memory, 'vented', 2000);
    changeState(memory, 'base', 3000);
    expect(memory.ventEndedAtMs).toBe(3000);
  });
});

describe('channels', () => {
  const { peaks } = chamber.last;

  test('channel 0 is the gauge, then mass by mass; what was not measured is NaN', () => {
    const q = toChannels(peaks, 1e-6, [2, 18, 999]);
    expect(q[0]).toBe(1e-6);
    expect(q[2]).toBe(peaks.heightPa[peaks.masses.indexOf(18)]);
    expect(q[3]).toBeNaN();
    expect(toChannels(peaks, null, [2])[0]).toBeNaN();
  });

  test('a few missing masses fit, most of them missing or many new ones do not', () => {
    const all = measuredMasses(peaks);
    expect(fits(peaks, all)).toBe(true);
    expect(fits(peaks, [...all, 998, 999])).toBe(true);
    expect(fits(peaks, [...all, ...Array.from({ length: 200 }, (_, i) => 300 + i)])).toBe(false);
    expect(fits(peaks, all.slice(0, 20))).toBe(false);
  });

  test('small things', () => {
    expect([median([3, 1, 2]), median([4, 1, 2, 3])]).toEqual([2, 2.5]);
    expect(median([])).toBeNaN();
    expect([middleOf(1, 9, 2), middleOf(5, 5, 0)]).toEqual([2, 5]);
    expect(totalOf(Float64Array.of(100, 1, -5, 2, Number.NaN))).toBe(3);
  });
});

describe('what is usual for people', () => {
  const estimate = (valuePa: number, detected = true) => [
    { gas: 'Ar', valuePa, lowPa: 0, highPa: 2 * valuePa, detected, sigmaPa: valuePa / 10 },
  ];

  test('median and spread of the logarithm; one wild hour moves neither', () => {
    const { baselines } = draft(chamber);
    const baseline = { ...baselines.base!, gases: {} };
    for (let i = 0; i < 40; i++)
      learnGases(baseline, estimate(i % 8 === 0 ? 1e-5 : 1e-9 * 10 ** (0.02 * Math.sin(i))), i * 60_000);
    const usual = usualOf(baseline, 'Ar')!;
    expect(usual.medianLog10Pa).toBeCloseTo(-9, 1);
    expect(usual.sigmaDecades).toBeLessThan(0.06);
    expect(usual.seen).toBe(true);
    expect(usual.scans).toBe(40);
  });

  test('the window stays small over months and lets the old go', () => {
    const baseline = { ...draft(chamber).baselines.base!, gases: {} };
    const hours = 24 * 90;
    for (let h = 0; h < hours; h++) learnGases(baseline, estimate(h < hours / 2 ? 1e-9 : 1e-8), h * 3_600_000);
    const window = (baseline.gases as Baseline['gases']).Ar!;
    expect(window.values.length).toBeLessThanOrEqual(64);
    expect(window.scans).toBe(hours);
    expect(usualOf(baseline, 'Ar')!.medianLog10Pa).toBeCloseTo(-8, 6);
  });

  test('the strip: measured, below detection, not measured', () => {
    const baseline = { ...draft(chamber).baselines.base!, gases: {} };
    for (let i = 0; i < 20; i++) learnGases(baseline, estimate(1e-9), i * 60_000);
    const [up] = driftStrip(baseline, estimate(1e-8));
    expect(up).toMatchObject({ gas: 'Ar', status: 'measured', decades: 1 });
    expect(driftStrip(baseline, estimate(1e-9, false))[0]!.status).toBe('below-detection');
    expect(driftStrip(undefined, estimate(1e-9))[0]!.decades).toBeNull();
    expect(driftStrip(baseline, estimate(Number.NaN))[0]!.status).toBe('not-measured');
  });

  test('is frozen while something stands', () => {
    const memory = draft(chamber);
    expect(isFrozen(memory)).toBe(false);
    expect(Object.values(viewsOf(memory)[0]!.gases).every(({ frozen }) => !frozen)).toBe(true);
    memory.standing = [{ direction: [1], held: false, signature: 'water' } as never];
    expect(isFrozen(memory)).toBe(true);
    expect(Object.values(viewsOf(memory)[0]!.gases).every(({ frozen }) => frozen)).toBe(true);
  });
});

describe('learning anew', () => {
  test('another scale has to last for twelve scans', () => {
    const memory = draft(chamber);
    const notes: Note[] = [];
    const input = { ...chamber.last, peaks: { ...chamber.last.peaks, scaled: false } };
    const fitted = Array.from({ length: 12 }, () => fittingBaseline({ memory, input, notes }, memory.baselines.base));
    expect(fitted.slice(0, 11).every((baseline) => baseline === null)).toBe(true);
    expect(fitted[11]).toMatchObject({ scaled: false, first: [] });
    expect(notes).toHaveLength(1);
  });

  test('a scale that is not known: all baselines go, and what stood is held', () => {
    const memory = draft(chamber);
    memory.standing = [{ direction: [1], observed: [1], held: false, state: 'base' } as never];
    relearnAll(memory, []);
    expect(memory.baselines).toEqual({});
    expect(memory.standing[0]).toMatchObject({ held: true, direction: null });
    expect(memory.impossible.kappa).toBeNull();
  });
});

test('a frame: the middle of three, and the mean of the last', () => {
  const memory = draft(chamber);
  frameOf(chamber, {}, { memory, times: 2 });
  const frame = frameOf(chamber, { 62: 1e-9 }, { memory, times: 1 });
  const m = frame.baseline.masses.indexOf(62) + 1;
  expect(frame.deviation[m]).toBeCloseTo(1e-9, 15);
  expect(frame.middle[m]).toBeCloseTo(0, 15);
  expect(recentMean(frame, 2)[m]).toBeCloseTo(0.5e-9, 15);
});
