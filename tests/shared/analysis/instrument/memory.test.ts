import { describe, expect, test } from 'vitest';
import { allanSigmas, learnAllan, OCTAVES } from '../../../../shared/analysis/instrument/allan.ts';
import { knownOf, NOTHING_KNOWN } from '../../../../shared/analysis/instrument/known.ts';
import { learn } from '../../../../shared/analysis/instrument/learn.ts';
import { readMemory, SETTINGS_KEPT, settingKey, short } from '../../../../shared/analysis/instrument/memory.ts';
import { learnTop, NO_TOP, type TopMemory } from '../../../../shared/analysis/instrument/top.ts';
import { instrumentView } from '../../../../shared/analysis/instrument/view.ts';
import type { AnalysisScan, InstrumentMemory } from '../../../../shared/analysis/types.ts';
import { GASES } from '../../../../shared/catalogue/gases.ts';
import { makeSimulatedAnalyser, type ScanSettings, seededRandom } from '../../../support/instrument.ts';
import { analyseSeries, calibrationOf, seriesScan } from '../../../support/series.ts';

const MINUTE = 60_000;
const BARS: ScanSettings = { unit: 'A', masses: { first: 1, last: 100, perUnit: 1 }, range: 1e5, ions: 1e7 };
const PROFILE: ScanSettings = { ...BARS, masses: { first: 0.5, last: 70, perUnit: 8 }, offsetU: 0.12 };
const TRUTH = { H2: 3e-6, H2O: 4e-6, N2: 2e-6, CO: 1e-6, CO2: 6e-7, O2: 3e-7, Ar: 1e-7, acetone: 4e-8, NF3: 5e-8 };

/** Both detectors, bars and profiles, a gauge, and a chamber that moves. */
function mixed(count: number, seed = 1): AnalysisScan[] {
  const random = seededRandom(seed);
  const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.2, sensitivitySpread: 0.2 });
  return Array.from({ length: count }, (_, k) => {
    const factor = 1 + 0.5 * Math.sin(k / 20);
    const truth = Object.fromEntries(Object.entries(TRUTH).map(([gas, p]) => [gas, p * factor]));
    const detector = k % 40 < 25 ? 'faraday' : 'multiplier';
    const settings = k % 10 === 9 ? PROFILE : BARS;
    const state = k % 200 < 190 ? 'base' : 'bake';
    return seriesScan(random, analyser, {
      truth,
      settings,
      atMs: k * MINUTE,
      detector,
      gain: 7e3,
      gaugePa: 1e-5 * factor,
      state,
    });
  });
}

const everyNumber = (value: unknown, at = ''): [string, number][] =>
  typeof value === 'number'
    ? [[at, value]]
    : value !== null && typeof value === 'object'
      ? Object.entries(value).flatMap(([key, inner]) => everyNumber(inner, `${at}.${key}`))
      : [];

describe('instrument memory', () => {
  const scans = mixed(600);
  const { answers, memory } = analyseSeries(scans, calibrationOf());

  test('is plain JSON of finite numbers, below 15 kB, and no larger after more scans', () => {
    const text = JSON.stringify(memory);
    expect(JSON.parse(text)).toEqual(memory);
    expect(everyNumber(memory).filter(([, value]) => !Number.isFinite(value))).toEqual([]);
    expect(text.length).toBeLessThan(15_000);
    const more = analyseSeries(
      mixed(300, 2).map((scan) => ({ ...scan, atMs: scan.atMs + 600 * MINUTE })),
      calibrationOf(),
      memory,
    ).memory;
    expect(JSON.stringify(more).length).toBeLessThan(15_000);
  });

  test('is the same in any batching, with JSON in between', () => {
    let parted: InstrumentMemory | null = null;
    for (let from = 0; from < scans.length; from += 37) {
      const next = analyseSeries(scans.slice(from, from + 37), calibrationOf(), parted);
      parted = JSON.parse(JSON.stringify(next.memory));
      expect(next.answers[0]!.analysis.gases).toEqual(answers[from]!.analysis.gases);
    }
    expect(parted).toEqual(memory);
  });

  test('is never changed in place', () => {
    const frozen = (value: unknown): void => {
      if (value === null || typeof value !== 'object') return;
      Object.freeze(value);
      Object.values(value).forEach(frozen);
    };
    let kept: InstrumentMemory | null = null;
    for (const scan of scans.slice(0, 60)) {
      kept = analyseSeries([scan], calibrationOf(), kept).memory;
      frozen(kept);
    }
    expect(kept).not.toBeNull();
  });

  test('of another format is begun anew', () => {
    const old = { format: 0, settings: 'something else' };
    expect(knownOf(old, scans[0]!, calibrationOf())).toEqual(NOTHING_KNOWN);
    expect(analyseSeries(scans.slice(0, 5), calibrationOf(), old).memory).toEqual(
      analyseSeries(scans.slice(0, 5), calibrationOf()).memory,
    );
  });

  test('does not move with a scan that is not newer, nor with one that holds no mass', () => {
    const analysed = answers[10]!;
    const heights = { masses: [] as number[] } as never;
    expect(
      learn(memory, { scan: scans[10]!, calibration: calibrationOf(), heights, analysis: analysed.analysis }),
    ).toBe(memory);
    expect(analyseSeries([scans[10]!], calibrationOf(), memory).memory).toEqual(memory);
  });

  test('holds a bounded number of settings, each known by detector, time, unit and masses', () => {
    const settings = readMemory(memory).settings;
    expect(settings.length).toBe(SETTINGS_KEPT);
    const [scan] = scans;
    expect(settingKey({ ...scan!, averages: 2 })).not.toBe(settingKey(scan!));
    expect(settingKey({ ...scan!, masses: [2, 18, 28] })).not.toBe(settingKey({ ...scan!, masses: [2, 18, 44] }));
  });

  test('shows people what it knows', () => {
    const view = instrumentView(memory)!;
    expect(view.gain!.value / 7e3).toBeCloseTo(1, 1);
    expect(view.gain!.pairs).toBeGreaterThan(10);
    expect(view.massScale!.offsetU).toBeCloseTo(0.12, 2);
    expect(view.kappa!.scans).toBeGreaterThan(500);
    expect(view.noise!.sigmaPa).toBeGreaterThan(0);
    expect(view.allan!.scans).toEqual(Array.from({ length: OCTAVES }, (_, k) => 2 ** k));
    expect(view.allan!.masses.map(({ mass }) => mass)).toEqual(
      [...view.allan!.masses.map(({ mass }) => mass)].sort((a, b) => a - b),
    );
    expect(instrumentView(null)).toBeNull();
    expect(instrumentView({ format: 0 })).toBeNull();
  });

  test('begins κ anew with another calibration, and leaves out what is not the chamber at rest', () => {
    const [scan] = scans.slice(-1);
    const later = { ...scan!, atMs: scan!.atMs + 60_000 };
    const before = instrumentView(memory)!.kappa!;
    const kappaAfter = (settings: Partial<typeof later>, calibration = calibrationOf()) =>
      instrumentView(analyseSeries([{ ...later, ...settings }], calibration, memory).memory)!.kappa;
    expect(kappaAfter({ state: 'base' })!.scans).toBe(before.scans + 1);
    expect(kappaAfter({ state: 'calibration' })!.scans).toBe(before.scans);
    expect(kappaAfter({ state: 'base' }, { ...calibrationOf(), version: 'another' })!.scans).toBe(1);
  });

  test('short numbers keep their digits and their JSON short', () => {
    for (const value of [1.23456789e-13, -9.87654321e-30, 12345.6789, 0.1, 3e12, 0]) {
      expect(Math.abs(short(value, 5) - value)).toBeLessThanOrEqual(1e-4 * Math.abs(value));
      expect(JSON.stringify(short(value, 5)).length).toBeLessThan(14);
    }
    expect(short(Number.NaN)).toBe(0);
  });
});

describe('Allan curve', () => {
  const step = (k: number, changes: Partial<AnalysisScan> = {}, value = k % 2) => ({
    scan: { ...mixed(1)[0]!, atMs: k * MINUTE, ...changes },
    key: 'one',
    masses: [28],
    heightsPa: () => value,
    sigmaPa: 0.01,
  });
  const curveAfter = (steps: readonly ReturnType<typeof step>[]) =>
    steps.reduce<ReturnType<typeof learnAllan>>((memory, one) => learnAllan(memory, one), null)!;

  test('a gap or a state begins new blocks and keeps the curve', () => {
    const first = Array.from({ length: 9 }, (_, k) => step(k));
    const pairsOf = (more: ReturnType<typeof step>[]) =>
      curveAfter([...first, ...more]).octaves.map(({ pairs }) => pairs);
    expect(pairsOf([]).slice(0, 3)).toEqual([8, 3, 1]);
    expect(pairsOf([step(9)])[0]).toBe(9);
    expect(pairsOf([step(30)])[0]).toBe(8);
    expect(pairsOf([step(9, { state: 'bake' })])[0]).toBe(8);
    expect(allanSigmas(curveAfter(first))[0]![0]).toBeCloseTo(Math.SQRT1_2, 3);
  });

  test('other settings do not enter; when they have taken over it begins anew', () => {
    const others = Array.from({ length: 51 }, (_, k) => ({ ...step(k + 9), key: 'two' }));
    const first = Array.from({ length: 9 }, (_, k) => step(k));
    expect(curveAfter([...first, ...others.slice(0, 50)]).key).toBe('one');
    expect(curveAfter([...first, ...others]).key).toBe('two');
  });

  test('a mass that is missing once makes a gap, no more', () => {
    const missing = step(9, {}, Number.NaN);
    const memory = curveAfter([...Array.from({ length: 9 }, (_, k) => step(k)), missing, step(10), step(11)]);
    expect(memory.octaves[0]!.pairs).toBe(9);
  });
});

describe('end of the scale', () => {
  const heights = (top: number, noise: number) =>
    Float64Array.of(top, 1.234567 + noise, 2.345678 - noise, 0.123456 + noise);

  test('a top that repeats to the last digit while the rest moves is remembered; a higher one forgets it', () => {
    let memory: TopMemory = NO_TOP;
    for (let k = 0; k < 10; k++) memory = learnTop(memory, heights(5, k * 1e-4), false);
    expect(memory.fullScale).toBe(5);
    expect(learnTop(memory, heights(6, 0), false).fullScale).toBeNull();
  });

  test('a repeated scan, and heights of few digits, say nothing', () => {
    let repeated: TopMemory = NO_TOP;
    let coarse: TopMemory = NO_TOP;
    for (let k = 0; k < 20; k++) {
      repeated = learnTop(repeated, heights(5, 0), false);
      coarse = learnTop(coarse, Float64Array.of(5, 1 + (k % 3) / 10, 0.5), false);
    }
    expect(repeated.fullScale).toBeNull();
    expect(coarse.fullScale).toBeNull();
    // Gas on: all large peaks stand still to within the last of five digits.
    let still: TopMemory = NO_TOP;
    for (let k = 0; k < 20; k++) {
      still = learnTop(still, Float64Array.of(2.0323, 1.9233 + (k % 2) * 1e-4, 0.10001 + k * 1e-5), false);
    }
    expect(still.repeats).toBe(8);
    expect(still.fullScale).toBeNull();
  });
});
