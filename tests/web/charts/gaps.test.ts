/** What a trend may never do, for any series: lose an extremum, cross a gap, put nothing onto a log axis. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Gap,
  gapsOf,
  loneValues,
  rangeKey,
  rowsOf,
  type TrendPointLike,
  undetectedTimes,
} from '../../../web/charts/gaps.ts';

const MINUTE = 60_000;
const START = Date.UTC(2026, 10, 27);

/** A value as a server may send it: positive, nothing, or what no axis can hold. */
const value = fc.oneof(fc.double({ min: 1e-16, max: 1e2, noNaN: true }), fc.constantFrom(null, 0, -3e-12));
const bucket = fc.record({
  value,
  down: fc.double({ min: 1, max: 1000, noNaN: true }),
  up: fc.double({ min: 1, max: 1000, noNaN: true }),
  limit: fc.option(fc.double({ min: 1e-13, max: 1e-9, noNaN: true })),
  /** Minutes to the bucket before. */
  after: fc.integer({ min: 1, max: 3 }),
});
const series = fc.array(bucket, { minLength: 1, maxLength: 80 }).map((told) => {
  let minute = 0;
  return told.map(({ value: v, down, up, limit, after }): TrendPointLike => {
    minute += after;
    const at = new Date(START + minute * MINUTE).toISOString();
    return v === null
      ? { at, value: null, min: null, max: null, limit }
      : { at, value: v, min: v / down, max: v * up, limit };
  });
});
const same = (x: number) => x;
const timesOf = (points: readonly TrendPointLike[]) => points.map(({ at }) => Date.parse(at));

/** Gaps between the points of a series: after these places in it. */
const gapsAfter = (points: readonly TrendPointLike[], places: readonly number[]): Gap[] =>
  [...new Set(places)].flatMap((place) => {
    const [from, to] = [points[place], points[place + 1]];
    return from && to ? [{ from: Date.parse(from.at), to: Date.parse(to.at) }] : [];
  });

describe('rows of a trend', () => {
  test('hold every positive value with its extremes, as they are', () => {
    fc.assert(
      fc.property(series, series, fc.array(fc.nat(79), { maxLength: 5 }), (N2, O2, places) => {
        const rows = rowsOf({ N2, O2 }, gapsAfter(N2, places), same);
        for (const [gas, points] of Object.entries({ N2, O2 })) {
          for (const point of points) {
            const row = rows.find(({ t }) => t === Date.parse(point.at));
            expect(row).toBeDefined();
            if (point.value === null || point.value <= 0) expect(row?.[gas]).toBeNull();
            else {
              expect(row?.[gas]).toBe(point.value);
              expect(row?.[rangeKey(gas)]).toEqual([point.min, point.max]);
            }
          }
        }
      }),
    );
  });

  test('hold nothing that is zero, negative or no number', () => {
    fc.assert(
      fc.property(series, (N2) => {
        for (const row of rowsOf({ N2 }, [], same)) {
          for (const drawn of [row.N2, row[rangeKey('N2')]].flat()) {
            if (drawn == null) continue;
            expect(Number.isFinite(drawn as number) && (drawn as number) > 0).toBe(true);
          }
        }
      }),
    );
  });

  test('are in order of time, and every gap has an empty one between its ends: no line can cross it', () => {
    fc.assert(
      fc.property(series, fc.array(fc.nat(79), { maxLength: 8 }), (N2, places) => {
        const gaps = gapsAfter(N2, places);
        const rows = rowsOf({ N2 }, gaps, same);
        for (const [i, row] of rows.slice(1).entries()) expect(row.t).toBeGreaterThan(rows[i]?.t ?? 0);
        for (const { from, to } of gaps) {
          const inside = rows.filter(({ t }) => t > from && t < to);
          expect(inside.length).toBeGreaterThan(0);
          for (const row of inside) expect([row.N2, row[rangeKey('N2')]]).toEqual([null, null]);
        }
      }),
    );
  });

  test('no value of one gas breaks the line of another where both were measured', () => {
    fc.assert(
      fc.property(series, (N2) => {
        const O2 = N2.map((point) => ({ ...point, value: point.value === null ? null : point.value * 2 }));
        const rows = rowsOf({ N2, O2 }, [], same);
        expect(rows.map(({ t }) => t)).toEqual(timesOf(N2));
      }),
    );
  });
});

test('below detection is a time with a limit and without a value; it never stands among the values', () => {
  fc.assert(
    fc.property(series, (points) => {
      const times = new Set(undetectedTimes(points));
      for (const point of points) {
        const positive = point.value !== null && point.value > 0;
        const limited = typeof point.limit === 'number' && point.limit > 0;
        expect(times.has(Date.parse(point.at))).toBe(!positive && limited);
      }
    }),
  );
});

test('every positive value is part of a line of two or more, or has a mark of its own', () => {
  fc.assert(
    fc.property(series, fc.array(fc.nat(79), { maxLength: 8 }), (N2, places) => {
      const rows = rowsOf({ N2 }, gapsAfter(N2, places), same);
      const lone = new Set(loneValues(rows, 'N2').map(({ t }) => t));
      const drawn = rows.map((row) => typeof row.N2 === 'number');
      for (const [i, row] of rows.entries()) {
        if (!drawn[i]) continue;
        expect(lone.has(row.t)).toBe(!drawn[i - 1] && !drawn[i + 1]);
      }
    }),
  );
});

test('gaps come in order and none is longer than the server named it', () => {
  fc.assert(
    fc.property(series, fc.array(fc.nat(79), { maxLength: 8 }), (N2, places) => {
      const named = gapsAfter(N2, places).map(({ from, to }) => ({
        from: new Date(from).toISOString(),
        to: new Date(to).toISOString(),
      }));
      const gaps = gapsOf(named);
      for (const [i, gap] of gaps.entries()) {
        expect(named.some(({ from, to }) => Date.parse(from) === gap.from && Date.parse(to) === gap.to)).toBe(true);
        if (i > 0) expect(gap.from).toBeGreaterThanOrEqual(gaps[i - 1]?.from ?? 0);
      }
    }),
  );
});
