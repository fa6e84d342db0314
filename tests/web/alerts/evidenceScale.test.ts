import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CHANNEL, drawEvidence, PICTURE } from '../../../web/alerts/evidenceScale.ts';

describe('pictures of evidence', () => {
  test('the expected range always fills the channel, whatever its numbers', () => {
    const range = fc.tuple(
      fc.double({ min: 1e-12, max: 1, noNaN: true }),
      fc.double({ min: 1.01, max: 100, noNaN: true }),
    );
    fc.assert(
      fc.property(range, ([expectedLow, ratio]) => {
        const expectedHigh = expectedLow * ratio;
        expect(drawEvidence({ value: expectedLow, expectedLow, expectedHigh })?.mark).toBeCloseTo(CHANNEL.left, 6);
        expect(drawEvidence({ value: expectedHigh, expectedLow, expectedHigh })?.mark).toBeCloseTo(CHANNEL.right, 6);
      }),
    );
  });
  test('what does not fit is marked at the edge, and every mark lies in the picture', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e3, max: 1e3, noNaN: true }), (value) => {
        const drawing = drawEvidence({ value, low: value, high: value, expectedLow: 0.01, expectedHigh: 0.02 });
        for (const x of [drawing?.mark ?? drawing?.atMost ?? 4, drawing?.line?.from ?? 4, drawing?.line?.to ?? 4]) {
          expect(x).toBeGreaterThanOrEqual(0);
          expect(x).toBeLessThanOrEqual(PICTURE.width);
        }
      }),
    );
    expect(drawEvidence({ value: 900, expectedLow: 0.01, expectedHigh: 0.02 })?.beyond).toBe('right');
  });
  test('an upper limit is an arrow, and without an expectation there is no picture', () => {
    const limit = drawEvidence({ value: null, high: 0.0073, expectedLow: 0.003, expectedHigh: 0.0037 });
    expect(limit?.mark).toBeNull();
    expect(limit?.atMost).toBeGreaterThan(CHANNEL.right);
    expect(
      drawEvidence({ value: 0, low: 0, high: 1e-4, expectedLow: 0.01, expectedHigh: 0.02 })?.atMost,
    ).not.toBeNull();
    expect(drawEvidence({ value: 0.5 })).toBeNull();
  });
});
