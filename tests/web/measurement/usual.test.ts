import fc from 'fast-check';
import { expect, test } from 'vitest';
import { isOutside, usualOf } from '../../../web/measurement/usual.ts';

test('the usual range lies within what was seen and holds about 95 % of it', () => {
  const values = fc.uniqueArray(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 40, maxLength: 200 });
  fc.assert(
    fc.property(values, (found) => {
      const usual = usualOf(found);
      if (usual === null) throw new Error('so many different values have a range');
      expect(usual.low).toBeGreaterThanOrEqual(Math.min(...found));
      expect(usual.high).toBeLessThanOrEqual(Math.max(...found));
      const inside = found.filter((value) => isOutside(value, usual) === null).length / found.length;
      expect(inside).toBeGreaterThanOrEqual(0.93);
    }),
  );
});

test('too few or all the same say nothing', () => {
  expect(usualOf([1, 2, 3])).toBeNull();
  expect(usualOf(Array.from({ length: 50 }, () => 7))).toBeNull();
  expect(isOutside(5, { low: 1, high: 4 })).toBe('above');
  expect(isOutside(0, { low: 1, high: 4 })).toBe('below');
});
