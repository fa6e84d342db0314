/**
 * The example's instruments against facts from outside.
 *
 * - Isotope ratios 36Ar/40Ar 0.00335 and 29/28 of N2 0.0073: IUPAC isotopic compositions (from memory; first order).
 * - Shot noise: N ions scatter by √N (Poisson); the variance of a multiplier's current is larger by its excess factor.
 * - Height at the edge of a peak one unit wide at a tenth: ISO 14291 and common practice speak of the 5 and 10 % width.
 */
import { describe, expect, it } from 'vitest';
import { ionSignal, sourceResponse } from '../../../server/demo/instrument/ionSource.ts';
import { PATTERNS } from '../../../server/demo/instrument/patterns.ts';
import { massOffset, peakShape, signalAtPoints } from '../../../server/demo/instrument/peakShape.ts';
import { readOut } from '../../../server/demo/instrument/readout.ts';
import { INSTRUMENTS } from '../../../server/demo/instruments.ts';
import { noGas, WORLD_GASES } from '../../../server/demo/physics/gases.ts';
import type { Instrument } from '../../../server/demo/plant.ts';
import { chanceFrom } from '../../../server/demo/random.ts';

const NOW_MS = Date.UTC(2031, 0, 8, 6);
const MINUTE_MS = 60_000;
const bars = INSTRUMENTS.find(({ unit, perUnit }) => unit === 'A' && perUnit === 1) as Instrument;
const profile = INSTRUMENTS.find(({ perUnit }) => perUnit > 1) as Instrument;
const trap = INSTRUMENTS.find(({ unit }) => unit === '1') as Instrument;

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const spread = (values: readonly number[]) => {
  const centre = mean(values);
  return Math.sqrt(mean(values.map((value) => (value - centre) ** 2)));
};

describe('ion sources', () => {
  it('break gases up each in its own way: fragments 10 to 25 % off the typed ones, isotopes as in nature', () => {
    for (const instrument of INSTRUMENTS) {
      const response = sourceResponse(instrument);
      const tilt = Math.log((response.Ar[36] ?? 0) / (response.Ar[40] ?? 1) / 0.00335) / Math.log(40 / 36);
      expect(Math.abs(tilt)).toBeLessThan(1);
      const ratio = (response.N2[14] ?? 0) / (response.N2[28] ?? 1) / 2 ** tilt / (PATTERNS.N2.fragments[0]?.[1] ?? 1);
      expect(Math.abs(ratio - 1)).toBeGreaterThan(0.09);
      expect(Math.abs(ratio - 1)).toBeLessThan(0.26);
      expect((response.N2[29] ?? 0) / (response.N2[28] ?? 1)).toBeCloseTo(0.0073, 3);
    }
  });

  it('differ from one another', () => {
    const seen = INSTRUMENTS.map((instrument) => sourceResponse(instrument).CO2[12]?.toPrecision(6));
    expect(new Set(seen).size).toBe(INSTRUMENTS.length);
  });

  it('show carbon oxides of their own even where the chamber has none', () => {
    const signal = ionSignal({ instrument: bars, response: sourceResponse(bars), partialPa: noGas(), atMs: NOW_MS });
    expect(signal[28]).toBeGreaterThan(0);
    expect(signal[44]).toBeGreaterThan(0);
    expect(signal[40]).toBe(0);
  });

  it('cover every gas of the world', () => {
    expect(Object.keys(PATTERNS).sort()).toEqual([...WORLD_GASES].sort());
  });
});

describe('peaks', () => {
  it('are a tenth high at half a unit and whole at the top', () => {
    expect(peakShape(0)).toBe(1);
    expect(peakShape(0.5)).toBeCloseTo(0.1, 12);
    expect(peakShape(-0.5)).toBe(peakShape(0.5));
  });

  it('stand in a profile where the mass scale puts them', () => {
    const peaks = new Float64Array(profile.lastMass + 1);
    peaks[28] = 1;
    const points = signalAtPoints(profile, peaks, NOW_MS);
    expect(points).toHaveLength((profile.lastMass - profile.firstMass) * profile.perUnit + 1);
    const weight = points.reduce((sum, height) => sum + height, 0);
    const centre =
      points.reduce((sum, height, index) => sum + height * (profile.firstMass + index / profile.perUnit), 0) / weight;
    const offset = massOffset(profile, NOW_MS);
    expect(centre).toBeCloseTo(28 + offset.atZero + 28 * offset.perUnitMass, 2);
  });
});

describe('the readout', () => {
  it('scatters as its read noise in the dark', () => {
    const dark = Array.from({ length: 100 }, () => 0);
    const values = readOut(bars, dark, NOW_MS);
    const ratio = spread(values) / bars.readNoiseAmperes;
    expect(ratio).toBeGreaterThan(0.8);
    expect(ratio).toBeLessThan(1.2);
    expect(values.some((value) => value < 0)).toBe(true);
  });

  it('scatters as √N ions in the light', () => {
    const pascal = 1e-6;
    const heights = Array.from(
      { length: 400 },
      (_, minute) =>
        readOut(
          bars,
          Array.from({ length: 100 }, () => pascal),
          NOW_MS + minute * MINUTE_MS,
        )[27] ?? 0,
    );
    const dwellSeconds = bars.sweepSeconds / 100;
    const ions = (pascal * bars.amperesPerPascal * dwellSeconds) / 1.602176634e-19;
    const relative = spread(heights) / mean(heights);
    // The multiplier's excess lies between 1 and 2; the sample of 400 knows its own spread to 4 %.
    expect(relative).toBeGreaterThan(0.9 / Math.sqrt(ions));
    expect(relative).toBeLessThan(1.1 * Math.sqrt(2 / ions));
  });

  it('does not go beyond full scale', () => {
    const values = readOut(bars, [1, 1], NOW_MS);
    expect(values).toEqual([bars.fullScaleAmperes, bars.fullScaleAmperes]);
  });

  it('gives an ion trap’s shares, which add up to one', () => {
    const shares = readOut(trap, [3e-8, 0, 1e-8], NOW_MS);
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 3);
    expect((shares[0] ?? 0) / (shares[2] ?? 1)).toBeCloseTo(3, 1);
  });
});

describe('chance', () => {
  it('counts ions with the mean and variance of Poisson', () => {
    for (const expected of [0.5, 7, 200]) {
      const chance = chanceFrom(11);
      const counts = Array.from({ length: 20_000 }, () => chance.count(expected));
      expect(mean(counts) / expected).toBeCloseTo(1, 1);
      expect(spread(counts) ** 2 / expected).toBeCloseTo(1, 1);
    }
  });
});
