import { describe, expect, test } from 'vitest';
import { learnFirst, newBaseline } from '../../../shared/watch/baseline.ts';
import { ownSpectra } from '../../../shared/watch/ownGases.ts';
import { mixture } from '../../../shared/watch/patterns.ts';
import { commonWobble, learnWobble, wobbleOf } from '../../../shared/watch/wobble.ts';
import { makeRandom } from '../../support/world/random.ts';

const masses = Array.from({ length: 50 }, (_, i) => i + 1);
const HOUR = 3600;

function chamber() {
  const baseline = newBaseline({ masses, scaled: true, detector: null, atMs: 0 });
  const spectrum = mixture(
    [
      ['H2', 2e-7],
      ['H2O', 1e-6],
      ['CO', 1e-7],
      ['CO2', 3e-8],
    ],
    masses,
  );
  for (let i = 0; i < 12; i++)
    learnFirst(
      baseline,
      spectrum.map((v) => v * (1 + (i % 2 ? 1e-4 : -1e-4))),
      12,
      1e-13,
    );
  baseline.temperatureC = 22;
  return baseline;
}

/** Days of scans every hour in which water is `water(t)` times its usual. */
function live(
  days: number,
  water: (hour: number) => number,
  temperature: (hour: number) => number | null = () => null,
) {
  const baseline = chamber();
  for (let hour = 0; hour < days * 24; hour++) {
    const spectra = ownSpectra(baseline);
    const own = spectra.find((spectrum) => spectrum.own.gas === 'H2O')!;
    const deviation = own.channels.map((value) => value * (water(hour) - 1));
    const q = deviation.map((value, m) => value + baseline.mean[m]!);
    learnWobble(baseline, {
      q,
      deviation,
      spectra,
      lifted: null,
      seconds: HOUR,
      state: 'base',
      temperatureC: temperature(hour),
    });
  }
  return baseline;
}
const waterOf = (baseline: ReturnType<typeof chamber>) => baseline.own.find(({ gas }) => gas === 'H2O')!;

describe('how much a gas breathes', () => {
  test('is ten per cent before anything is known, twenty where gas is let in', () => {
    expect(wobbleOf(waterOf(chamber()), 'base')).toBeCloseTo(0.1, 6);
    expect(wobbleOf(waterOf(chamber()), 'gas-on')).toBeCloseTo(0.2, 6);
    expect(commonWobble(chamber())).toBeCloseTo(0.06, 6);
  });

  test('is learned within weeks: three per cent are seen as about three', () => {
    const random = makeRandom(7);
    const learned = wobbleOf(waterOf(live(40, () => 1 + 0.03 * random.normal())), 'base');
    expect(learned).toBeGreaterThan(0.025);
    expect(learned).toBeLessThan(0.045);
  });

  test('a slow growth does not widen its own band: scatter counts about a local mean', () => {
    const growth = live(40, (hour) => 1.1 ** (hour / 168));
    const still = live(40, () => 1);
    expect(wobbleOf(waterOf(growth), 'base')).toBeLessThan(1.5 * wobbleOf(waterOf(still), 'base'));
  });

  test('a slope with temperature is learned: six per cent a kelvin', () => {
    const hall = (hour: number) => 22 + 2 * Math.sin((2 * Math.PI * hour) / 24);
    const baseline = live(20, (hour) => Math.exp(0.03 * (hall(hour) - 22)), hall);
    // It began at 0.065.
    expect(waterOf(baseline).slope).toBeLessThan(0.045);
    expect(waterOf(baseline).slope).toBeGreaterThan(0.02);
  });
});
