import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Peak } from '../../shared/contract/readings.ts';
import { gapsOf, loneValues, rangeKey, rowsOf, type TrendPointLike, undetectedTimes } from '../../web/charts/gaps.ts';
import { ionLabel } from '../../web/charts/ions.ts';
import { logAxis, plottable } from '../../web/charts/logAxis.ts';
import { piecesOf, sharesOf } from '../../web/charts/peakShares.ts';
import { drawable, rivalOf, SLOTS, strokeOf } from '../../web/charts/strokes.ts';
import { timeTicks } from '../../web/charts/timeAxis.ts';
import { clockTime } from '../../web/notation/time.ts';

const anything = fc.oneof(
  fc.double({ min: -1e3, max: 1e3, noNaN: true }),
  fc.double({ min: 1e-16, max: 1e5, noNaN: true }),
  fc.constantFrom(null, undefined, 0, Number.NaN, Number.POSITIVE_INFINITY),
);

describe('log axis', () => {
  test('never holds zero or less, and holds every value that can stand on it', () => {
    fc.assert(
      fc.property(fc.array(anything), (values) => {
        const axis = logAxis(values);
        expect(axis.low).toBeGreaterThan(0);
        expect(axis.high).toBeGreaterThan(axis.low);
        for (const value of values) {
          const drawn = plottable(value);
          if (drawn === null) continue;
          expect(drawn).toBeGreaterThanOrEqual(axis.low * (1 - 1e-6));
          expect(drawn).toBeLessThanOrEqual(axis.high * (1 + 1e-6));
        }
      }),
    );
  });

  test('carries whole decades, few enough to be read', () => {
    fc.assert(
      fc.property(fc.array(anything), (values) => {
        const { ticks } = logAxis(values);
        expect(ticks.length).toBeGreaterThanOrEqual(3);
        expect(ticks.length).toBeLessThanOrEqual(9);
        for (const tick of ticks) expect(Math.abs(Math.log10(tick) - Math.round(Math.log10(tick)))).toBeLessThan(1e-9);
      }),
    );
    expect(logAxis([1e-11, 2e-7]).ticks.map((tick) => Math.round(Math.log10(tick)))).toEqual([
      -11, -10, -9, -8, -7, -6,
    ]);
  });
});

describe('time axis', () => {
  test('stays inside the span, on round times of the wall clock, not crowded', () => {
    const zones = ['UTC', 'Europe/Oslo', 'Asia/Kathmandu', 'America/St_Johns'];
    fc.assert(
      fc.property(
        fc.integer({ min: 1.7e9, max: 2e9 }),
        fc.integer({ min: 120, max: 90 * 86_400 }),
        fc.constantFrom(...zones),
        (start, length, zone) => {
          const [from, to] = [start * 1000, (start + length) * 1000];
          const ticks = timeTicks(from, to, zone, 10);
          expect(ticks.length).toBeLessThanOrEqual(12);
          for (const { ms } of ticks) {
            expect(ms).toBeGreaterThanOrEqual(from);
            expect(ms).toBeLessThanOrEqual(to);
            expect(ms % 60_000).toBe(0);
          }
        },
      ),
    );
  });
  test('six in the morning stays six in the morning across a change of clocks', () => {
    const from = Date.UTC(2026, 2, 28, 0);
    const ticks = timeTicks(from, from + 3 * 86_400_000, 'Europe/Oslo', 14);
    expect(new Set(ticks.map(({ ms }) => clockTime(ms, 'Europe/Oslo')))).toEqual(
      new Set(['00:00', '06:00', '12:00', '18:00']),
    );
    expect(ticks.filter(({ day }) => day !== null)).toHaveLength(3);
  });
});

const MINUTE = 60_000;
const START = Date.UTC(2026, 10, 27);
const at = (minute: number) => new Date(START + minute * MINUTE).toISOString();
const point = (minute: number, value: number | null, more: Partial<TrendPointLike> = {}): TrendPointLike => ({
  at: at(minute),
  value,
  min: value,
  max: value,
  ...more,
});
const every = (from: number, to: number, step: number) =>
  Array.from({ length: (to - from) / step + 1 }, (_, i) => point(from + i * step, 1e-8));

describe('gaps', () => {
  test('no line crosses a gap, and no value is lost by it', () => {
    const series = { N2: [...every(0, 60, 1), ...every(101, 160, 1)] };
    const gaps = gapsOf([{ from: at(60), to: at(101) }]);
    expect(gaps).toEqual([{ from: START + 60 * MINUTE, to: START + 101 * MINUTE }]);
    const rows = rowsOf(series, gaps, (value) => value);
    const inside = rows.filter(({ t }) => t > START + 60 * MINUTE && t < START + 101 * MINUTE);
    expect(inside.map((row) => row.N2)).toEqual([null]);
    expect(rows.filter((row) => typeof row.N2 === 'number')).toHaveLength(series.N2.length);
  });

  test('no extremum is lost, and nothing that is not positive reaches the axis', () => {
    const value = fc.oneof(fc.double({ min: 1e-13, max: 1e-3, noNaN: true }), fc.constantFrom(0, -1e-12));
    fc.assert(
      fc.property(fc.array(fc.tuple(value, fc.double({ min: 1, max: 100, noNaN: true })), { minLength: 1 }), (told) => {
        const points = told.map(([v, up], i) => point(i, v, { min: v / up, max: v * up }));
        const rows = rowsOf({ N2: points }, [], (x) => x);
        const highest = Math.max(...points.map(({ max }) => max ?? 0));
        const drawn = rows.flatMap((row) => {
          const range = row[rangeKey('N2')];
          return Array.isArray(range) ? range : [];
        });
        expect(drawn.every((x) => x > 0)).toBe(true);
        if (highest > 0) expect(Math.max(...drawn)).toBe(highest);
      }),
    );
  });

  test('what was looked for and not found is told from what was not measured', () => {
    const points = [point(0, null, { limit: 3e-11 }), point(1, null), point(2, 1e-9)];
    expect(undetectedTimes(points)).toEqual([START]);
  });

  test('a value with nothing on either side gets a mark of its own', () => {
    const rows = rowsOf(
      { N2: [point(0, null), point(1, 1e-9), point(2, null), point(3, 1e-9), point(4, 1e-9)] },
      [],
      (x) => x,
    );
    expect(loneValues(rows, 'N2').map(({ t }) => t)).toEqual([START + MINUTE]);
  });
});

describe('strokes', () => {
  test('every gas has a slot, known or not, and always the same one', () => {
    fc.assert(
      fc.property(fc.string(), (gas) => {
        expect(SLOTS).toContain(strokeOf(gas).slot);
        expect(strokeOf(gas)).toEqual(strokeOf(gas));
      }),
    );
  });
  test('guests go to their kin', () => {
    expect(strokeOf('C3H8').slot).toBe('oil');
    expect(strokeOf('SF6').slot).toBe('n2');
    expect(strokeOf('HCl').slot).toBe('o2');
    expect(strokeOf('acetone').slot).toBe('ar');
  });
  test('what is drawn together never shares a slot', () => {
    const gases = fc.array(
      fc.constantFrom('H2', 'He', 'N2', 'SF6', 'O2', 'CO', 'Ar', 'CO2', 'CH4', 'H2O', 'NH3', 'C2H6'),
    );
    fc.assert(
      fc.property(gases, (list) => {
        const slots = drawable(list).map((gas) => strokeOf(gas).slot);
        expect(new Set(slots).size).toBe(slots.length);
      }),
    );
    expect(rivalOf('SF6', ['H2', 'N2'])).toBe('N2');
    expect(rivalOf('N2', ['N2'])).toBeNull();
    expect(rivalOf('O2', ['N2'])).toBeNull();
  });
  test('gases of one slot differ by their dash', () => {
    expect(strokeOf('He').dash).not.toBe(strokeOf('H2').dash);
    expect(strokeOf('SF6').dash).not.toBe(strokeOf('N2').dash);
  });
});

const peak = (parts: Record<string, number>, unexplained = 0, value = 1e-8): Peak => ({
  mass: 28,
  value,
  sigma: 1e-11,
  baseline: null,
  parts: Object.entries(parts).map(([gas, share]) => ({ gas, share })),
  unexplained,
});

describe('shares of a peak', () => {
  test('fill the bar from foot to top, the largest at the foot, what nobody explains on top', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.array(share, { minLength: 1, maxLength: 6 }), share, (weights, rest) => {
        const sum = weights.reduce((a, b) => a + b, 0) || 1;
        const parts = Object.fromEntries(weights.map((w, i) => [`X${i}`, (w / sum) * (1 - rest)]));
        const pieces = piecesOf(peak(parts, rest));
        expect(pieces[0]?.from).toBe(0);
        expect(pieces[pieces.length - 1]?.to).toBeCloseTo(1, 9);
        for (const [i, piece] of pieces.slice(1).entries()) expect(piece.from).toBe(pieces[i]?.to);
        const named = pieces.filter(({ slot }) => slot !== 'unexplained').map(({ from, to }) => to - from);
        expect(named).toEqual([...named].sort((a, b) => b - a));
        if (rest >= 0.03) expect(pieces[pieces.length - 1]?.slot).toBe('unexplained');
      }),
    );
  });
  test('what the analyser makes itself is grey and counted once', () => {
    const shares = sharesOf([peak({ N2: 0.9, 'low-mass foot': 0.1 }), peak({ 'desorbed F+': 0.5 }, 0.5, 1e-9)]);
    expect(shares.map(({ slot }) => slot)).toEqual(['n2', 'own', 'unexplained']);
    expect(shares.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  });
  test('an unexplained peak is called by its mass', () => {
    expect(ionLabel(64, 'SO2', 0.8)).toBe('64 ?');
    expect(ionLabel(28, 'CO', 0)).toBe('CO⁺');
    expect(ionLabel(28, 'N2', 0)).toBe('N₂⁺');
    expect(ionLabel(50, 'WF6', 0)).toBeNull();
  });
});
