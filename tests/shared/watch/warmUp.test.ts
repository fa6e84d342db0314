import { describe, expect, test } from 'vitest';
import type { Note } from '../../../shared/watch/relearn.ts';
import { followWarmUp, isHeld } from '../../../shared/watch/warmUp.ts';
import { makeWorld } from '../../support/world/chamber.ts';
import { draft, watched } from '../../support/world/frames.ts';
import { streamOf, watchStream } from '../../support/world/stream.ts';

const chamber = watched(31, { kind: 'unbaked' });
const HOUR_MS = 3_600_000;

type Factors = Readonly<Record<number, number>>;
const IONISER: Factors = { 2: 1.6, 12: 3, 14: 1.5, 15: 2.5, 16: 2, 28: 3, 44: 3 };

function begin(gaugeFactor = 1) {
  const memory = draft(chamber);
  const baseline = memory.baselines.base!;
  const notes: Note[] = [];
  const spectrum = (factors: Factors, share = 1) =>
    Float64Array.from(baseline.mean, (mean, m) => {
      const factor = m === 0 ? gaugeFactor : (factors[baseline.masses[m - 1]!] ?? 1);
      return mean * (1 + share * (factor - 1));
    });
  const t0 = memory.lastAtMs! + 2 * HOUR_MS;
  const scan = (q: Float64Array, hours: number, gapSeconds = 60) =>
    followWarmUp({ memory, baseline, q, atMs: t0 + hours * HOUR_MS, gapSeconds, notes });
  return { memory, spectrum, scan, notes };
}

describe('an ioniser that warms up', () => {
  test('after a pause its gases are held as long as they fall, and the readings are marked', () => {
    const { memory, spectrum, scan, notes } = begin();
    scan(spectrum(IONISER), 0, 7200);
    expect(isHeld(memory, 'COx')).toBe(true);
    expect(isHeld(memory, 'air')).toBe(false);
    for (let h = 0.1; h < 12; h += 0.1) scan(spectrum(IONISER, Math.exp(-h / 2)), h);
    expect(isHeld(memory, 'COx')).toBe(false);
    expect(notes.every(({ code }) => code === 'warming-up')).toBe(true);
    expect(notes.length).toBeGreaterThan(20);
    expect(notes.length).toBeLessThan(120);
  });

  test('what does not fall is believed within two hours', () => {
    const { memory, spectrum, scan } = begin();
    scan(spectrum(IONISER), 0, 7200);
    let held = 0;
    for (let h = 0.1; h < 6 && isHeld(memory, 'CO'); h += 0.1) {
      scan(spectrum(IONISER), h);
      held = h;
    }
    expect(held).toBeGreaterThan(0.9);
    expect(held).toBeLessThan(2.3);
  });

  test.each([
    ['no pause', 60, IONISER, 1],
    ['the gauge follows: real gas', 7200, IONISER, 2.4],
    ['air with it', 7200, { ...IONISER, 32: 40, 40: 40 }, 1],
    ['one gas alone', 7200, { 12: 3, 28: 3 }, 1],
  ] as const)('%s: no warm-up', (_name, gapSeconds, factors, gauge) => {
    const { memory, spectrum, scan } = begin(gauge);
    scan(spectrum(factors), 0, gapSeconds);
    expect(memory.overTime.warmUp).toBeNull();
    expect(isHeld(memory, 'COx')).toBe(false);
  });
});

/** Two calm days, three hours without a scan, then the ioniser's gas, and perhaps a leak, for half a day. */
function afterPause(seed: number, leak: boolean, pauseHours = 3) {
  const world = makeWorld(seed, { kind: 'baked', periodSeconds: 300, hasGauge: true });
  const from = 2 * 86_400;
  const fault = { kind: leak ? 'air' : 'ioniser', size: leak ? 300 : 3, fromSeconds: from } as const;
  const stream = streamOf(world, { days: 2.5, quietTimetable: true, mishaps: false, fault });
  return watchStream(
    world,
    stream.filter(({ seconds }) => seconds < from - pauseHours * 3600 || seconds >= from),
  );
}

test('through the whole watch: the gas of the ioniser calls nobody after a pause, a leak does', () => {
  const warm = afterPause(31, false);
  expect(warm.said).toEqual([]);
  expect(warm.notes).toContain('warming-up');
  expect(afterPause(31, false, 0).said[0], 'without a pause it is news').toBe('raised analyser-outgassing');
  expect(afterPause(31, true).said[0]).toBe('raised air-leak');
});
