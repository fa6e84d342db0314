import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gapThatFits, labelWidth, noteHeights, placeLabels, spread, wordsThatFit } from '../../../web/charts/labels.ts';

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

describe('words in one column', () => {
  const room = { gap: 14, top: 50, bottom: 270 };
  const place = fc.double({ min: 0, max: 320, noNaN: true });
  test('never lie on one another nor outside, whatever they belong to', () => {
    fc.assert(
      fc.property(fc.array(fc.array(place, { minLength: 1, maxLength: 3 }), { maxLength: 8 }), (wanted) => {
        const heights = noteHeights(wanted, room);
        expect(heights).toHaveLength(wanted.length);
        const drawn = heights.filter((y) => y !== null);
        // Eight words of 14 px have room in 220 px: none is dropped.
        expect(drawn).toHaveLength(wanted.length);
        for (const [i, y] of drawn.entries()) {
          expect(y).toBeGreaterThanOrEqual(room.top);
          expect(y).toBeLessThanOrEqual(room.bottom);
          for (const other of drawn.slice(i + 1)) expect(Math.abs(y - other)).toBeGreaterThanOrEqual(14 - 1e-9);
        }
      }),
    );
  });
  test('stand where they are wanted while that is free', () => {
    expect(
      noteHeights(
        [
          [100, 80],
          [104, 120],
        ],
        room,
      ),
    ).toEqual([100, 120]);
    expect(noteHeights([[100], [100]], room)).toEqual([100, 86]);
  });
  test('without room are left out', () => {
    expect(noteHeights([[10], [10], [10]], { gap: 14, top: 0, bottom: 15 })).toEqual([10, null, null]);
  });
});

test('labels at the ends of any number of lines stay within the picture, apart, in the order of their lines', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -50, max: 400, noNaN: true }), { minLength: 1, maxLength: 16 }),
      (heights) => {
        const [top, bottom] = [40, 268];
        const gap = gapThatFits(heights.length, 17, bottom - top);
        expect(gap).toBeGreaterThan(15);
        const placed = spread(heights, gap, bottom, top);
        const sorted = [...placed].sort((a, b) => a - b);
        for (const [i, y] of sorted.slice(1).entries()) expect(y - (sorted[i] ?? 0)).toBeGreaterThanOrEqual(gap - 1e-6);
        for (const y of placed) {
          expect(y).toBeGreaterThanOrEqual(top - 1e-6);
          expect(y).toBeLessThanOrEqual(bottom + 1e-6);
        }
        for (const [i, a] of heights.entries())
          for (const [j, b] of heights.entries()) if (a < b) expect(placed[i]).toBeLessThan(placed[j] as number);
      },
    ),
  );
});

test('words beside upright lines never reach the next line, nor each other', () => {
  const line = fc.record({ x: fc.integer({ min: 0, max: 900 }), width: fc.integer({ min: 20, max: 220 }) });
  fc.assert(
    fc.property(fc.array(line, { maxLength: 10 }), (lines) => {
      const fits = wordsThatFit(lines, 1000);
      for (const [i, { x, width }] of lines.entries()) {
        if (!fits[i]) continue;
        expect(x + width).toBeLessThan(1000);
        for (const [j, other] of lines.entries()) if (i !== j) expect(other.x > x + width || other.x < x).toBe(true);
      }
    }),
  );
});
