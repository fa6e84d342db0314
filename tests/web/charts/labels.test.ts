import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { labelWidth, placeLabels, spread } from '../../../web/charts/labels.ts';

describe('labels', () => {
  const box = fc.record({
    x: fc.integer({ min: 0, max: 400 }),
    top: fc.integer({ min: 60, max: 300 }),
    text: fc.constantFrom('H₂⁺', 'H₂O⁺', 'C₃H₇⁺', '64 ?'),
  });
  test('never lie on each other', () => {
    fc.assert(
      fc.property(fc.array(box, { maxLength: 12 }), (wanted) => {
        const placed = placeLabels(wanted, [], -1000);
        expect(placed).toHaveLength(wanted.length);
        placed.forEach((a, i) => {
          for (const b of placed.slice(i + 1)) {
            const beside = Math.abs(a.x - b.x) >= (labelWidth(a.text) + labelWidth(b.text)) / 2;
            expect(beside || Math.abs(a.y - b.y) >= 13).toBe(true);
          }
        });
      }),
    );
  });
  test('climb over a higher neighbour', () => {
    const [label] = placeLabels([{ x: 100, top: 200, text: 'O₂⁺' }], [{ x: 106, top: 90, width: 8 }], 0);
    expect(label?.y).toBeLessThan(90);
  });
  test('ends of lines keep apart and in the picture', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 40, max: 250, noNaN: true }), { maxLength: 8 }), (heights) => {
        const placed = spread(heights, 17, 268);
        const sorted = [...placed].sort((a, b) => a - b);
        for (const [i, y] of sorted.slice(1).entries()) expect(y - (sorted[i] ?? 0)).toBeGreaterThanOrEqual(17 - 1e-9);
        expect(placed.every((y) => y <= 268 + 1e-9)).toBe(true);
      }),
    );
  });
});
