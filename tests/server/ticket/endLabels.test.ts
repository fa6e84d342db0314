import fc from 'fast-check';
import { expect, test } from 'vitest';
import { spread, wrapped } from '../../../server/ticket/endLabels.ts';
import { spread as spreadOnPage } from '../../../web/charts/labels.ts';

const GAP = 15;

test('labels never overlap, keep their order and stay in the picture while they have room', () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: -100, max: 600, noNaN: true }), { maxLength: 12 }), (heights) => {
      const [top, bottom] = [100, 430];
      const places = spread(heights, GAP, top, bottom);
      const sorted = [...places].sort((a, b) => a - b);
      for (const [i, y] of sorted.entries())
        if (i > 0) expect(y - (sorted[i - 1] ?? 0)).toBeGreaterThanOrEqual(GAP - 1e-9);
      for (const y of places) {
        expect(y).toBeGreaterThanOrEqual(top - 1e-9);
        expect(y).toBeLessThanOrEqual(bottom + 1e-9);
      }
      for (const [i, a] of heights.entries())
        for (const [j, b] of heights.entries()) if (a < b) expect(places[i]).toBeLessThan(places[j] as number);
    }),
  );
});

test('labels that have room stay where their lines end', () => {
  expect(spread([120, 200, 300], GAP, 100, 430)).toEqual([120, 200, 300]);
});

test('the picture of a ticket and the trend of the page spread the same labels alike', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -100, max: 600, noNaN: true }), { maxLength: 30 }),
      fc.integer({ min: 1, max: 30 }),
      (heights, gap) => {
        expect(spreadOnPage(heights, gap, 430, 100)).toEqual(spread(heights, gap, 100, 430));
      },
    ),
  );
});

test('words are parted between lines and none is lost', () => {
  fc.assert(
    fc.property(fc.array(fc.stringMatching(/^[a-z]{1,20}$/), { maxLength: 40 }), (words) => {
      const lines = wrapped(words.join(' '), 30);
      expect(lines.join(' ').split(' ').filter(Boolean)).toEqual(words);
      for (const line of lines) expect(line.length).toBeLessThanOrEqual(30);
    }),
  );
});
