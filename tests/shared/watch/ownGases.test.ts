import { describe, expect, test } from 'vitest';
import { learnFirst, newBaseline } from '../../../shared/watch/baseline.ts';
import { ownCauses } from '../../../shared/watch/ownCauses.ts';
import { BACKGROUND, ownSpectra } from '../../../shared/watch/ownGases.ts';
import { mixture } from '../../../shared/watch/patterns.ts';

const masses = Array.from({ length: 60 }, (_, i) => i + 1);
const TRUE = { H2: 2e-7, H2O: 1e-6, CO: 1e-7, CH4: 1e-8, CO2: 3e-8, Ar: 1e-9, O2: 1e-9 };
const start = { masses, scaled: true, detector: null, atMs: 0 };

function baselineOf(change: (spectrum: Float64Array) => void = () => {}) {
  const baseline = newBaseline(start);
  const spectrum = mixture(Object.entries(TRUE), masses);
  change(spectrum);
  // One part in ten thousand up and down: a little noise to learn.
  for (let i = 0; i < 12; i++)
    learnFirst(
      baseline,
      spectrum.map((v) => v * (1 + (i % 2 ? 1e-4 : -1e-4))),
      12,
      1e-13,
    );
  return baseline;
}

describe('sharing the baseline out among the gases of a chamber', () => {
  test('finds the pressures that made it', () => {
    for (const { gas, pressurePa } of baselineOf().own) {
      const truth = (TRUE as Record<string, number>)[gas] ?? 0;
      expect(Math.abs(pressurePa - truth)).toBeLessThan(0.05 * truth + 1e-10);
    }
  });

  test('an isotope peak five times smaller than in the catalogue does not drag its gas down', () => {
    const { own } = baselineOf((spectrum) => {
      spectrum[19]! /= 5;
      spectrum[20]! /= 5;
    });
    expect(own.find(({ gas }) => gas === 'H2O')!.pressurePa).toBeGreaterThan(0.9 * TRUE.H2O);
  });

  test('what the gases are given adds up to the spectrum again', () => {
    const baseline = baselineOf();
    const sum = new Float64Array(masses.length + 1);
    for (const { channels } of ownSpectra(baseline))
      channels.forEach((value, m) => {
        sum[m]! += value;
      });
    for (const mass of [2, 18, 17, 28, 44]) expect(sum[mass]! / baseline.mean[mass]!).toBeCloseTo(1, 1);
    expect(baseline.kappa).toBeCloseTo(1, 1);
  });

  test('every background gas is asked for', () => {
    expect(baselineOf().own.map(({ gas }) => gas)).toEqual([...BACKGROUND]);
  });
});

describe('causes from the chamber itself', () => {
  const baseline = baselineOf();
  const spectrum = new Float64Array(baseline.mean);
  const reference = { spectrum, lifted: null, tail: null, doubt: null, spectra: ownSpectra(baseline) };

  test('a pump that fails moves the gauge with the gases; a gain does not', () => {
    const causes = ownCauses(baseline, reference);
    const dense = (id: string) => causes.find((cause) => cause.id === id)!.variants[0]!.dense;
    expect(dense('pumping')[0]! / spectrum[0]!).toBeCloseTo(1, 1);
    expect(dense('gain-up')[0]).toBe(0);
    expect(dense('gain-up')[18]).toBe(spectrum[18]);
    expect(dense('outgassing')[0]).toBe(0);
  });

  test('light gases first: hydrogen gains on water', () => {
    const pumping = ownCauses(baseline, reference).find(({ id }) => id === 'pumping')!;
    const lead = (dense: Float64Array) => dense[2]! / spectrum[2]! / (dense[18]! / spectrum[18]!);
    const turbo = pumping.variants.filter(({ pump }) => pump === 'all' || pump === 'light-first');
    const leads = turbo.map(({ dense }) => lead(dense));
    expect(leads[0]).toBeCloseTo(1, 1);
    for (let i = 1; i < leads.length; i++) expect(leads[i]!).toBeGreaterThan(leads[i - 1]!);
  });

  test('without a gauge nobody blames it', () => {
    const ids = ownCauses({ ...baseline, hasGauge: false }, reference).map(({ id }) => id);
    expect(ids).not.toContain('gauge-up');
    expect(ids).not.toContain('gauge-down');
  });
});
