import { expect, test } from 'vitest';
import { nameChange } from '../../../shared/watch/naming.ts';
import { LEAST_EVIDENCE } from '../../../shared/watch/parameters.ts';
import { zeroWander } from '../../../shared/watch/zeroWander.ts';
import { frameOf, peaks, watched } from '../../support/world/frames.ts';

test('is one height under all masses, of the quietest one, and none of the gauge', () => {
  const column = zeroWander({ variance: [1, 9e-22, 4e-22, 1e-18] }, new Float64Array(4));
  expect(column[0]).toBe(0);
  expect(column[1]! / 1.4e-11).toBeCloseTo(1, 9);
  expect(column.slice(2).every((value) => value === column[1])).toBe(true);
  expect(zeroWander({ variance: [1] }, new Float64Array(1))).toEqual(new Float64Array(1));
});

test('a zero that has wandered is evidence of no cause, oil beside it still is', () => {
  const frame = frameOf(watched(43), {});
  const sigma = Math.sqrt(Math.min(...frame.baseline.variance.slice(1)));
  const zero = frame.middle.map((_, m) => (m === 0 ? 0 : 1.5 * sigma));
  const shifted = nameChange(frame, zero, { lane: 'mean' });
  expect(shifted.candidates[0]!.score - shifted.nothing).toBeLessThan(LEAST_EVIDENCE);
  // Peaks of a paraffin oil, common practice.
  const oil = peaks({ 43: 100, 41: 50, 57: 95, 55: 50, 71: 50, 69: 30, 39: 15, 29: 25, 27: 15, 85: 28 }, 15 * sigma);
  const both = zero.map((height, m) => height + (oil[frame.baseline.masses[m - 1] ?? 0] ?? 0));
  const named = nameChange(frame, both, { lane: 'mean' });
  expect(named.candidates[0]!.cause.id).toBe('hydrocarbon-oil');
  expect(named.candidates[0]!.score - named.nothing).toBeGreaterThan(LEAST_EVIDENCE);
});

test('an analyser that sends zeros where it sees little is not believed to see nothing at all', () => {
  const frame = frameOf(watched(43), {});
  const { baseline, reference } = frame;
  const zeros = (m: number) => m > 0 && baseline.masses[m - 1]! > 45;
  const quiet = { ...baseline, variance: baseline.variance.map((value, m) => (zeros(m) ? 1e-80 : value)) };
  const spectrum = reference.spectrum.map((height, m) => (zeros(m) ? 0 : height));
  const total = baseline.mean.slice(1).reduce((sum, height) => sum + Math.max(0, height), 0);
  // A billionth of everything, at one mass, is evidence of nothing.
  const little = frame.middle.map((_, m) => (baseline.masses[m - 1] === 52 ? 1e-9 * total : 0));
  const ground = { ...frame, baseline: quiet, reference: { ...reference, spectrum } };
  const named = nameChange(ground, little, { lane: 'scan' });
  expect(named.change).toBeLessThan(1);
  expect((named.candidates[0]?.score ?? named.nothing) - named.nothing).toBeLessThan(LEAST_EVIDENCE);
});
