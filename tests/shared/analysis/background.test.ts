/** Truth by construction; the analyser's own gas comes and goes by as much as its record says. Seeds are fixed. */
import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../../shared/analysis/analyse.ts';
import { ownGasOf } from '../../../shared/analysis/background.ts';
import { makePrepare } from '../../../shared/analysis/prepare.ts';
import type { Background, Calibration, ScanAnalysis } from '../../../shared/analysis/types.ts';
import { GASES } from '../../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { makeSimulatedAnalyser, type ScanSettings, seededRandom, simulateScan } from '../../support/instrument.ts';

const MASSES = Array.from({ length: 100 }, (_, i) => i + 1);
const BARS = { first: 1, last: 100, perUnit: 1 };
const SETTINGS: ScanSettings = { unit: 'Pa', masses: BARS, range: 1e5, ions: 1e7 };
const UNSTEADINESS = 0.1;
const CATALOGUE = catalogueFor([]);

interface Case {
  readonly seed: number;
  /** CO2 of the analyser over CO2 of the chamber. */
  readonly ownRatio: number;
  readonly settings?: ScanSettings;
  readonly principle?: 'ion trap';
}

function withOwnGas({ seed, ownRatio, settings = SETTINGS, principle }: Case) {
  const random = seededRandom(seed);
  const make = { fragmentSpread: 0.2, sensitivitySpread: 0.1, ...(principle ? { principle } : {}) };
  const analyser = makeSimulatedAnalyser(random, GASES, make);
  const chamber = { H2O: 1e-6, H2: 2e-7, N2: 1e-7, CO: 5e-8, CO2: 3e-8, Ar: 1e-8 };
  const own = { CO2: 3e-8 * ownRatio, CO: 1.5e-8 * ownRatio };
  const heightOf = (mass: number) =>
    Object.entries(own).reduce((sum, [gas, p]) => sum + p * analyser.responses.get(gas)![mass]!, 0);
  const peaks: Record<number, { heightPa: number; sigmaPa: number }> = {};
  for (const mass of MASSES) {
    const sigmaPa = 1e-11;
    peaks[mass] = { heightPa: heightOf(mass) + sigmaPa * random.normal(), sigmaPa };
  }
  const factor = 1 + UNSTEADINESS * random.normal();
  const both = Object.fromEntries(
    Object.entries(chamber).map(([gas, p]) => [gas, p + factor * ((own as Record<string, number>)[gas] ?? 0)]),
  );
  const gauge = () =>
    Object.entries(chamber).reduce(
      (sum, [gas, p]) => sum + p * GASES.find(({ id }) => id === gas)!.relativeSensitivity.value,
      0,
    );
  const simulated = simulateScan(random, analyser, both, settings, gauge);
  const background: Background = { peaks, unsteadiness: UNSTEADINESS };
  const analyse = (calibration: Calibration): ScanAnalysis =>
    makeAnalyser(calibration, CATALOGUE).analyse(simulated.scan).analysis;
  return {
    chamber,
    plain: () => analyse(simulated.calibration),
    subtracted: () => analyse({ ...simulated.calibration, background }),
    peaks: () => makeAnalyser({ ...simulated.calibration, background }, CATALOGUE).analyse(simulated.scan).peaks,
    shown: () => makeAnalyser(simulated.calibration, CATALOGUE).analyse(simulated.scan).peaks,
  };
}

const carbonDioxide = (analysis: ScanAnalysis) => analysis.gases.find(({ gas }) => gas === 'CO2')!;

function count(ownRatio: number, analysisOf: (one: ReturnType<typeof withOwnGas>) => ScanAnalysis, scans = 100) {
  let covered = 0;
  let limited = 0;
  let share = 0;
  for (let seed = 1; seed <= scans; seed++) {
    const one = withOwnGas({ seed: 7000 + seed, ownRatio });
    const analysis = analysisOf(one);
    const { lowPa, highPa } = carbonDioxide(analysis);
    if (lowPa <= one.chamber.CO2 && highPa >= one.chamber.CO2) covered++;
    if (analysis.notes.some(({ code, text }) => code === 'analyser-limited' && text.includes('CO2'))) limited++;
    share += analysis.measurement!.ownGas.find(({ gas }) => gas === 'CO2')?.share ?? 0;
  }
  return { covered: covered / scans, limited: limited / scans, share: share / scans };
}

describe("the analyser's own gas", () => {
  test('left in, it is taken for the chamber; taken off, the interval holds', () => {
    expect(count(2, (one) => one.plain()).covered).toBeLessThan(0.2);
    expect(count(2, (one) => one.subtracted()).covered).toBeGreaterThanOrEqual(0.92);
    expect(count(0.3, (one) => one.subtracted()).covered).toBeGreaterThanOrEqual(0.92);
    expect(count(6, (one) => one.subtracted()).covered).toBeGreaterThanOrEqual(0.92);
  });

  test('its share is told, and above one half the gas is called limited by the analyser', () => {
    const little = count(0.3, (one) => one.subtracted());
    expect(little.share).toBeGreaterThan(0.15);
    expect(little.share).toBeLessThan(0.32);
    expect(little.limited).toBeLessThan(0.05);
    const much = count(3, (one) => one.subtracted());
    expect(much.share).toBeGreaterThan(0.65);
    expect(much.share).toBeLessThan(0.85);
    expect(much.limited).toBeGreaterThan(0.95);
  });

  test('a limited gas may be nothing: its interval begins at zero', () => {
    expect(carbonDioxide(withOwnGas({ seed: 1, ownRatio: 3 }).subtracted()).lowPa).toBe(0);
    expect(carbonDioxide(withOwnGas({ seed: 1, ownRatio: 0.3 }).subtracted()).lowPa).toBeGreaterThan(0);
  });

  test('what the analyser shows stays as it is; the drawn peak names the background as a part', () => {
    const one = withOwnGas({ seed: 2, ownRatio: 2 });
    expect(one.peaks().heightPa).toEqual(one.shown().heightPa);
    const peak = one.subtracted().peaks.find(({ mass }) => mass === 44)!;
    expect(peak.heightPa).toBeCloseTo(one.shown().heightPa[43]!, 20);
    expect(peak.parts.find(({ gas }) => gas === 'analyser background')!.share).toBeGreaterThan(0.5);
    expect(peak.parts.reduce((sum, { share }) => sum + share, 0)).toBeLessThan(1.001);
  });

  test('shares of an ion trap are brought to pascal before the background is taken off', () => {
    let covered = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const settings: ScanSettings = { ...SETTINGS, unit: '1', gaugeSpread: 0.05 };
      const one = withOwnGas({ seed: 8000 + seed, ownRatio: 1, settings, principle: 'ion trap' });
      const { lowPa, highPa } = carbonDioxide(one.subtracted());
      if (lowPa <= one.chamber.CO2 && highPa >= one.chamber.CO2) covered++;
    }
    expect(covered).toBeGreaterThanOrEqual(54);
  });

  test('a background that lies on other masses, or holds nothing, changes nothing', () => {
    const { fitter } = makePrepare({ ...CALIBRATION }, CATALOGUE)(MASSES, []);
    expect(ownGasOf(fitter, { peaks: { 150: { heightPa: 1, sigmaPa: 0.1 } }, unsteadiness: 0.1 })).toBe(null);
    expect(ownGasOf(fitter, { peaks: { 44: { heightPa: 0, sigmaPa: 0.1 } }, unsteadiness: 0.1 })).toBe(null);
    const own = ownGasOf(fitter, { peaks: { 44: { heightPa: 1, sigmaPa: 0.01 } }, unsteadiness: 0.1 })!;
    expect(own.heightPa[43]).toBe(1);
    expect(own.variance[43]).toBeCloseTo(0.0101, 10);
    expect(own.variance[27]).toBe(0);
  });
});

const CALIBRATION: Calibration = {
  analyser: 'made-up',
  principle: 'quadrupole',
  massRange: null,
  sensitivityAmperesPerPascal: null,
  multiplierGain: null,
  transmissionExponent: 0,
  version: '1',
};
