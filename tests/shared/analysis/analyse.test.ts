import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeAnalyser } from '../../../shared/analysis/analyse.ts';
import type { AnalysisScan, Calibration } from '../../../shared/analysis/types.ts';
import { GASES } from '../../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { KINDS, type Kind } from '../../support/compositions.ts';
import { makeSimulatedAnalyser, type ScanSettings, seededRandom, simulateScan } from '../../support/instrument.ts';

const CATALOGUE = catalogueFor([]);
const BARS = { first: 1, last: 100, perUnit: 1 };
const SETTINGS: ScanSettings = { unit: 'A', masses: BARS, range: 1e5, ions: 1e6 };

function simulated(seed: number, kind: Kind, changes: Partial<ScanSettings> = {}, principle?: 'ion trap') {
  const random = seededRandom(seed);
  const make = { fragmentSpread: 0.2, sensitivitySpread: 0.15, ...(principle ? { principle } : {}) };
  const instrument = makeSimulatedAnalyser(random, GASES, make);
  const truth = Object.fromEntries(Object.entries(KINDS[kind](random)).map(([gas, p]) => [gas, 1e-6 * p]));
  const gauge = () =>
    Object.entries(truth).reduce(
      (sum, [gas, p]) => sum + p * GASES.find(({ id }) => id === gas)!.relativeSensitivity.value,
      0,
    );
  return simulateScan(random, instrument, truth, { ...SETTINGS, ...changes }, gauge);
}

const isWater = ({ gas }: { readonly gas: string }) => gas === 'H2O';

const analyse = (scan: AnalysisScan, calibration: Calibration, catalogue = CATALOGUE) =>
  makeAnalyser(calibration, catalogue).analyse(scan);

describe('an analysis', () => {
  test('finds what is there, with low ≤ value ≤ high for every gas', () => {
    const { scan, calibration, truth } = simulated(1, 'air');
    const { analysis, peaks } = analyse(scan, calibration);
    for (const gas of analysis.gases) {
      expect(gas.lowPa).toBeLessThanOrEqual(gas.valuePa);
      expect(gas.highPa).toBeGreaterThanOrEqual(gas.valuePa);
      expect(gas.highPa).toBeGreaterThan(0);
    }
    for (const id of ['N2', 'O2', 'H2O']) {
      const gas = analysis.gases.find((one) => one.gas === id)!;
      expect(gas.detected).toBe(true);
      expect(gas.lowPa).toBeLessThan(truth[id]!);
      expect(gas.highPa).toBeGreaterThan(truth[id]!);
    }
    expect(peaks.scaled).toBe(true);
    expect(peaks.masses).toEqual(Array.from({ length: 100 }, (_, i) => i + 1));
    expect(analysis.decades!).toBeGreaterThan(3.5);
    expect(analysis.notes.map(({ code }) => code)).toContain('no-gauge');
    expect(analysis.kappa).toBe(null);
  });

  test('is as wide as the gain and the gauge factor on record are unsure', () => {
    const width = (gas: { lowPa: number; highPa: number }) => Math.log(gas.highPa / gas.lowPa);
    const { scan, calibration } = simulated(2, 'unbaked');
    const multiplier = { ...scan, detector: 'multiplier' as const };
    const water = (changes: Partial<Calibration>) =>
      width(analyse(multiplier, { ...calibration, multiplierGain: 1, ...changes }).analysis.gases.find(isWater)!);
    expect(water({})).toBeGreaterThan(1.3 * water({ multiplierGainUncertainty: 0.02 }));
    const trap = simulated(2, 'unbaked', { unit: '1', gaugeSpread: 0.01 }, 'ion trap');
    const share = (changes: Partial<Calibration>) =>
      width(analyse(trap.scan, { ...trap.calibration, ...changes }).analysis.gases.find(isWater)!);
    expect(share({ gaugeFactor: 1, gaugeFactorUncertainty: 0.4 })).toBeGreaterThan(1.3 * share({ gaugeFactor: 1 }));
  });

  test('does not depend on the scans before', () => {
    const scans = (['air', 'oil', 'baked', 'solvent'] as const).map((kind, i) => simulated(i, kind));
    const { calibration } = scans[0]!;
    const used = makeAnalyser(calibration, CATALOGUE);
    for (const { scan } of scans) used.analyse(scan);
    for (const { scan } of [...scans].reverse()) {
      expect(used.analyse(scan)).toEqual(makeAnalyser(calibration, CATALOGUE).analyse(scan));
    }
  });

  test('twice the signal is twice the pressure, whatever the signal', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1000 }),
        fc.constantFrom<Kind>('baked', 'unbaked', 'oil'),
        fc.double({ min: -6, max: 6, noNaN: true }),
        (seed, kind, decades) => {
          const { scan, calibration } = simulated(seed, kind);
          const factor = 10 ** decades;
          const plain = analyse(scan, calibration).analysis;
          const scaled = analyse({ ...scan, values: scan.values.map((v) => v * factor) }, calibration).analysis;
          plain.gases.forEach((gas, i) => {
            const other = scaled.gases[i]!;
            expect(other.detected).toBe(gas.detected);
            expect(other.highPa / (factor * gas.highPa)).toBeCloseTo(1, 6);
            if (gas.valuePa > 0) expect(other.valuePa / (factor * gas.valuePa)).toBeCloseTo(1, 5);
          });
        },
      ),
      { seed: 5, numRuns: 40 },
    );
  });

  test('the order of the candidates changes nothing', () => {
    for (const kind of ['unbaked', 'oil', 'solvent'] as const) {
      const { scan, calibration } = simulated(3, kind);
      const reversed = { ...CATALOGUE, gases: [...CATALOGUE.gases].reverse() };
      const there = analyse(scan, calibration).analysis.gases;
      const back = [...analyse(scan, calibration, reversed).analysis.gases].reverse();
      there.forEach((gas, i) => {
        expect(back[i]!.gas).toBe(gas.gas);
        expect(back[i]!.detected).toBe(gas.detected);
        expect(back[i]!.highPa / gas.highPa).toBeCloseTo(1, 6);
      });
    }
  });

  test('a candidate that is not there moves no gas beyond its interval', () => {
    const { scan, calibration } = simulated(4, 'unbaked');
    const few = analyse(scan, calibration).analysis.gases;
    const many = analyse(scan, calibration, catalogueFor(['SF6', 'CF4', 'Kr', 'Xe'])).analysis.gases;
    for (const gas of few) {
      const other = many.find((one) => one.gas === gas.gas)!;
      expect(other.valuePa).toBeGreaterThanOrEqual(gas.lowPa);
      expect(other.valuePa).toBeLessThanOrEqual(gas.highPa);
    }
    for (const id of ['SF6', 'CF4', 'Kr', 'Xe'])
      expect(many.find((one) => one.gas === id)?.detected ?? false).toBe(false);
  });
});

describe('units', () => {
  test.each([
    ['Pa', 1],
    ['mbar', 100],
    ['Torr', 101325 / 760],
  ] as const)('%s: the same heights mean the same pressures', (unit, pascal) => {
    const { scan, calibration } = simulated(5, 'unbaked', { unit: 'Pa' });
    const plain = analyse(scan, calibration).analysis;
    const other = analyse({ ...scan, unit, values: scan.values.map((v) => v / pascal) }, calibration).analysis;
    plain.gases.forEach((gas, i) => {
      expect(other.gases[i]!.highPa / gas.highPa).toBeCloseTo(1, 6);
    });
  });

  test('an ion trap is scaled to the gauge, in Pa, and says so; kappa would be one by construction', () => {
    const { scan, calibration, truth } = simulated(6, 'unbaked', { unit: '1', gaugeSpread: 0 }, 'ion trap');
    const { analysis, peaks } = analyse(scan, calibration);
    const water = analysis.gases.find(({ gas }) => gas === 'H2O')!;
    expect(water.lowPa).toBeLessThan(truth.H2O!);
    expect(water.highPa).toBeGreaterThan(truth.H2O!);
    expect(Math.abs(Math.log(water.valuePa / truth.H2O!))).toBeLessThan(0.4);
    expect(analysis.kappa).toBe(null);
    expect(peaks.scaled).toBe(true);
    expect(analysis.notes.map(({ code }) => code)).toContain('scaled-to-gauge');
  });

  test('a relative signal without a gauge has ratios and no pressures', () => {
    const { scan, calibration } = simulated(6, 'unbaked', { unit: '1' }, 'ion trap');
    for (const totalPressurePa of [null, 0, -1]) {
      const { analysis, peaks } = analyse({ ...scan, totalPressurePa }, calibration);
      expect(analysis.gases).toEqual([]);
      expect(analysis.sumPa).toBe(null);
      expect(peaks.scaled).toBe(false);
      expect(analysis.notes.map(({ code }) => code)).toContain('no-scale');
      expect(analysis.decades).toBeGreaterThan(2);
    }
  });

  test('kappa is what the gauge reads over what it should read', () => {
    const { scan, calibration } = simulated(7, 'unbaked', { gaugeSpread: 0 });
    const kappa = analyse(scan, calibration).analysis.kappa!;
    expect(Math.abs(Math.log(kappa))).toBeLessThan(0.4);
    const third = analyse({ ...scan, totalPressurePa: scan.totalPressurePa! / 3 }, calibration).analysis;
    expect(third.kappa! / kappa).toBeCloseTo(1 / 3, 9);
    expect(third.notes.map(({ code }) => code)).toContain('above-gauge');
  });
});

describe('scans that say little', () => {
  const { scan, calibration } = simulated(8, 'unbaked');

  test('no signal at all is said, not computed', () => {
    const { analysis, peaks } = analyse({ ...scan, values: new Float64Array(100) }, calibration);
    expect(analysis.gases).toEqual([]);
    expect(analysis.notes.map(({ code }) => code)).toContain('no-signal');
    expect(peaks.masses).toHaveLength(100);
  });

  test('nothing measured is said', () => {
    const { analysis } = analyse({ ...scan, values: new Float64Array(100).fill(Number.NaN) }, calibration);
    expect(analysis.notes.find(({ code }) => code === 'no-signal')!.text).toMatch(/No mass was measured/);
  });

  test('a mass that was not measured takes its gas out of the answer, not to zero', () => {
    const values = scan.values.slice();
    values[39] = Number.NaN;
    const { analysis, peaks } = analyse({ ...scan, values }, calibration);
    expect(analysis.gases.some(({ gas }) => gas === 'Ar')).toBe(false);
    expect(analysis.gases.some(({ gas }) => gas === 'H2O')).toBe(true);
    expect(peaks.masses).not.toContain(40);
  });

  test('every number of every answer is finite', () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof(fc.double({ min: -1e-9, max: 1e-6, noNaN: true }), fc.constant(0), fc.constant(Number.NaN)), {
          minLength: 1,
          maxLength: 60,
        }),
        (values) => {
          const masses = { first: 1, last: values.length, perUnit: 1 };
          const { analysis, peaks } = analyse({ ...scan, masses, values: Float64Array.from(values) }, calibration);
          for (const gas of analysis.gases) {
            for (const number of [gas.valuePa, gas.lowPa, gas.highPa, gas.sigmaPa])
              expect(Number.isFinite(number)).toBe(true);
          }
          expect(peaks.heightPa.every(Number.isFinite)).toBe(true);
          expect(Number.isFinite(peaks.readNoisePa)).toBe(true);
        },
      ),
      { seed: 3, numRuns: 300 },
    );
  });
});
