import { describe, expect, test } from 'vitest';
import { readNoise } from '../../../shared/analysis/readNoise.ts';
import { seededRandom } from '../../support/instrument.ts';

const masses = (last: number) => Array.from({ length: last }, (_, i) => i + 1);

describe('read noise of one scan', () => {
  test.each([
    ['clean', 50, 0],
    ['clean', 100, 0],
    ['clean', 200, 0],
    ['two thirds of the masses hold peaks', 100, 0.66],
  ])('%s, m/z 1 to %s: within a factor 0.6 to 1.8 in 95 % of 400 scans', (_name, last, share) => {
    const random = seededRandom(7);
    let inside = 0;
    for (let scan = 0; scan < 400; scan++) {
      const heights = Float64Array.from(masses(last), (mass) => {
        const empty = (mass >= 5 && mass <= 11) || mass === 21 || mass === 23;
        const peak = !empty && random.uniform() < share ? random.decades(1, 1e5) : 0;
        return peak + random.normal() + 0.7 + (mass === 18 ? 1e5 : 0);
      });
      const { sigma, from } = readNoise(masses(last), heights);
      expect(from).toBe('empty masses');
      if (sigma > 0.6 && sigma < 1.8) inside++;
    }
    expect(inside).toBeGreaterThanOrEqual(380);
  });

  test('negatives written as zero: the positive half gives the width', () => {
    const random = seededRandom(8);
    const heights = Float64Array.from(masses(100), (mass) => Math.max(0, random.normal() + (mass === 18 ? 1e4 : 0)));
    const { sigma, from } = readNoise(masses(100), heights);
    expect(from).toBe('steps');
    expect(sigma).toBeGreaterThan(0.4);
    expect(sigma).toBeLessThan(2);
  });

  test('rounded values without visible noise: the step stands for it, never zero', () => {
    const heights = Float64Array.from(masses(50), (mass) =>
      mass === 18 ? 1 : mass === 28 ? 0.013 : mass === 17 ? 0.212 : 0,
    );
    const { sigma, from } = readNoise(masses(50), heights);
    expect(from).toBe('steps');
    expect(sigma).toBeCloseTo(0.013, 6);
  });

  test('selected masses without empty ones: an assumption between 1e-6 and 1e-4 of the largest', () => {
    const { sigma, from } = readNoise([2, 18, 28, 44], Float64Array.of(1, 10, 3, 0.2));
    expect(from).toBe('assumed');
    expect(sigma).toBeCloseTo(1e-3, 9);
  });

  test('selected masses of which many hold no gas: what lies below zero gives the width', () => {
    // Two of thirty heights of pure noise are by chance as small as a tenth of its width.
    const random = seededRandom(17);
    const chosen = Array.from({ length: 30 }, (_, i) => 25 + 2 * i);
    let told = 0;
    const ratios = Array.from({ length: 200 }, () => {
      const heights = Float64Array.from(chosen, (_, i) => (i < 12 ? 1e-7 * (i + 1) : 0) + 1e-10 * random.normal());
      const { sigma, from } = readNoise(chosen, heights);
      if (from === 'empty masses') told++;
      return sigma / 1e-10;
    }).sort((a, b) => a - b);
    expect(told).toBeGreaterThan(190);
    expect(ratios[10]).toBeGreaterThan(0.6);
    expect(ratios[100]).toBeGreaterThan(1);
    expect(ratios[190]).toBeLessThan(2);
  });

  test('twice the signal has twice the noise', () => {
    const random = seededRandom(9);
    const heights = Float64Array.from(masses(100), () => random.normal());
    const doubled = heights.map((height) => 2 * height);
    expect(readNoise(masses(100), doubled).sigma / readNoise(masses(100), heights).sigma).toBeCloseTo(2, 12);
  });
});
