import { expect, test } from 'vitest';
import { barHeights, spacedMasses } from '../../../shared/analysis/bars.ts';

test('a mass between integers belongs to the nearest; of several the largest counts', () => {
  const { masses, heights } = barHeights([27.8, 28.1, 17.9, 40], Float64Array.of(2, 5, 1, 3));
  expect(masses).toEqual([18, 28, 40]);
  expect(Array.from(heights)).toEqual([1, 5, 3]);
});

test('what was not measured is left out, and nothing below m/z 1 is read', () => {
  const { masses, heights } = barHeights([0, 1, 2, 3], Float64Array.of(9, Number.NaN, -0.1, Number.POSITIVE_INFINITY));
  expect(masses).toEqual([2]);
  expect(Array.from(heights)).toEqual([-0.1]);
});

test('evenly spaced masses do not gather rounding errors', () => {
  const masses = spacedMasses(0.5, 10, 1001);
  expect(masses[0]).toBe(0.5);
  expect(masses[1000]).toBe(100.5);
});
