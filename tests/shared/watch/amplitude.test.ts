import { describe, expect, test } from 'vitest';
import { amplitudeOf } from '../../../shared/watch/amplitude.ts';

const shape = Float64Array.of(2, 10, 4, 1, 0, 0.2);
const sigma = () => 0.05;
const of = (change: number[]) => amplitudeOf({ change: Float64Array.from(change), shape, sigma, seenAmplitude: 1 });

describe('how much of a known fault there is', () => {
  test('the same shape twice as high', () => expect(of([4, 20, 8, 2, 0, 0.4]).value).toBe(2));
  test('gone', () => expect(of([0, 0, 0, 0, 0, 0]).value).toBe(0));
  test('a second fault on some of its channels does not move it', () => {
    expect(of([9, 20, 8, 40, 33, 7]).value).toBe(2);
  });
  test('a shape that falls, as of a lost gain', () => {
    const fallen = amplitudeOf({
      change: Float64Array.of(0, -5, -2),
      shape: Float64Array.of(0, -10, -4),
      sigma,
      seenAmplitude: 1,
    });
    expect(fallen.value).toBe(0.5);
  });
  test('noise is that of the channel which knows most', () =>
    expect(of([4, 20, 8, 2, 0, 0.4]).noise).toBeCloseTo(0.005, 9));
  test('nothing but the gauge: then the gauge', () => {
    const only = amplitudeOf({ change: Float64Array.of(3, 1), shape: Float64Array.of(2, 0), sigma, seenAmplitude: 1 });
    expect(only.value).toBe(1.5);
  });
});
