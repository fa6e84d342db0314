import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isProfile, profilePieces, thinned } from '../../../web/charts/profile.ts';

const value = fc.oneof(fc.double({ min: 1e-16, max: 1e-5, noNaN: true }), fc.constantFrom(null, 0, -2e-14, Number.NaN));
const scan = fc.array(value, { minLength: 1, maxLength: 300 }).map((values) => ({
  values,
  masses: values.map((_, i) => 1 + i / 16),
}));

describe('the pieces of a profile', () => {
  test('hold every value that can stand on the axis, in order, and nothing else', () => {
    fc.assert(
      fc.property(scan, fc.boolean(), ({ masses, values }, onLog) => {
        const drawn = profilePieces(masses, values, onLog).flat();
        const wanted = masses.flatMap((mass, i) => {
          const one = values[i];
          return one == null || !Number.isFinite(one) || (onLog && one <= 0) ? [] : [{ mass, value: one }];
        });
        expect(drawn).toEqual(wanted);
      }),
    );
  });

  test('never reach over a point that was not measured', () => {
    fc.assert(
      fc.property(scan, ({ masses, values }) => {
        for (const piece of profilePieces(masses, values, true)) {
          for (const [i, point] of piece.slice(1).entries())
            expect(point.mass - (piece[i]?.mass ?? 0)).toBeCloseTo(1 / 16, 9);
        }
      }),
    );
  });
});

describe('a thinned piece', () => {
  test('loses no extremum of any column, nor its ends, and invents nothing', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 1e-16, max: 1e-5, noNaN: true }), { minLength: 1, maxLength: 400 }),
        fc.double({ min: 0.01, max: 3, noNaN: true }),
        (values, width) => {
          const piece = values.map((v, i) => ({ mass: 1 + i / 32, value: v }));
          const kept = thinned(piece, width);
          const columns = new Map<number, number[]>();
          for (const { mass, value: v } of piece) {
            const column = Math.floor(mass / width);
            columns.set(column, [...(columns.get(column) ?? []), v]);
          }
          for (const [column, found] of columns) {
            const here = kept.filter(({ mass }) => Math.floor(mass / width) === column).map(({ value: v }) => v);
            expect(Math.max(...here)).toBe(Math.max(...found));
            expect(Math.min(...here)).toBe(Math.min(...found));
            expect(here.length).toBeLessThanOrEqual(4);
          }
          expect(kept[0]).toEqual(piece[0]);
          expect(kept.at(-1)).toEqual(piece.at(-1));
          for (const point of kept) expect(piece).toContainEqual(point);
          expect(kept.map(({ mass }) => mass)).toEqual([...kept].map(({ mass }) => mass).sort((a, b) => a - b));
        },
      ),
    );
  });
});

test('a scan with one value for each mass has no profile', () => {
  expect(isProfile([1, 2, 3, 4])).toBe(false);
  expect(isProfile([1, 1.125, 1.25])).toBe(true);
  expect(isProfile([18, 28, 40])).toBe(false);
});
