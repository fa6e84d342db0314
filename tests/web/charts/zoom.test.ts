import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { closer, LONGEST_MS, moved, SHORTEST_MS, settled, wider, zoomed } from '../../../web/charts/zoom.ts';

describe('zoom', () => {
  const now = Date.UTC(2026, 10, 27);
  const span = fc.record({ from: fc.integer({ min: 0, max: now }), to: fc.integer({ min: 0, max: now + 1e9 }) });
  test('always ends in order, within bounds and not in the future', () => {
    fc.assert(
      fc.property(span, (asked) => {
        for (const result of [settled(asked, now), closer(asked, now), wider(asked, now), moved(asked, 1, now)]) {
          expect(result.to - result.from).toBeGreaterThanOrEqual(SHORTEST_MS - 1);
          expect(result.to - result.from).toBeLessThanOrEqual(LONGEST_MS + 1);
          expect(result.to).toBeLessThanOrEqual(now);
        }
      }),
    );
  });
  test('keeps the moment under the pointer in its place', () => {
    const before = { from: now - 8e7, to: now - 4e7 };
    const around = now - 5e7;
    const after = zoomed(before, 0.5, around, now);
    const place = (s: { from: number; to: number }) => (around - s.from) / (s.to - s.from);
    expect(place(after)).toBeCloseTo(place(before), 6);
  });
});
