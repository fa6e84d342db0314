/**
 * Bounds of floods: more than 10 calls in ten minutes begin one, fewer than 5 end it (ANSI/ISA-18.2-2016, from secondary
 * sources). The refinery accident that HSE CHIS6 tells of had 275 alarms in its last 11 minutes.
 */
import { describe, expect, test } from 'vitest';
import {
  type Annunciation,
  countedOnce,
  floodsOf,
  perDay,
  periodsIn,
  perTenMinutes,
  TEN_MINUTES_MS,
  topOf,
} from '../../../server/performance/annunciations.ts';

const MINUTE = 60_000;
const START = Date.UTC(2031, 2, 3, 6);
const call = (minutes: number, changed: Partial<Annunciation> = {}): Annunciation => ({
  atMs: START + minutes * MINUTE,
  alert: `a${minutes}`,
  chamber: 'prep',
  signature: 'water',
  priority: 'low',
  ...changed,
});
const every = (count: number, from: number, to: number) =>
  Array.from({ length: count }, (_, i) =>
    call(from + ((to - from) * i) / count, { alert: `a${from}-${i}`, chamber: `c${i}` }),
  );

describe('floods', () => {
  test('ten calls in ten minutes are none, eleven are one', () => {
    expect(floodsOf(every(10, 0, 10))).toEqual([]);
    expect(floodsOf(every(11, 0, 10))).toMatchObject([{ fromMs: START, annunciations: 11, chambers: 11 }]);
  });

  test('275 alarms in 11 minutes are one flood', () => {
    const floods = floodsOf(every(275, 0, 11));
    expect(floods).toHaveLength(1);
    expect(floods[0]?.annunciations).toBe(275);
    expect((floods[0]?.toMs ?? 0) - START).toBeLessThan(11 * MINUTE + TEN_MINUTES_MS);
  });

  test('one that has dried up is over: the next is another', () => {
    const twice = floodsOf([...every(12, 0, 5), ...every(12, 60, 65)]);
    expect(twice.map(({ annunciations }) => annunciations)).toEqual([12, 12]);
  });
});

describe('counting', () => {
  test('ten-minute periods stand on the clock', () => {
    expect([...perTenMinutes([call(9), call(11)]).values()].map((calls) => calls.length)).toEqual([1, 1]);
    expect(periodsIn({ fromMs: START, toMs: START + 60 * MINUTE })).toBe(6);
    expect(periodsIn({ fromMs: START + 5 * MINUTE, toMs: START + 15 * MINUTE })).toBe(2);
  });

  test('members of a group that began together are one call; each that comes back is one again', () => {
    const calls = [
      { ...call(0), alert: 'a', first: true },
      { ...call(1), alert: 'b', first: true },
      { ...call(2), alert: 'c', first: true },
      { ...call(500), alert: 'b', first: false },
    ];
    const groups = new Map([
      ['a', 'g'],
      ['b', 'g'],
    ]);
    expect(countedOnce(calls, groups).map(({ alert }) => alert)).toEqual(['a', 'c', 'b']);
  });

  test('days without a call are in the series', () => {
    const dayOf = (atMs: number) => new Date(atMs).toISOString().slice(0, 10);
    const span = { fromMs: Date.UTC(2031, 2, 2), toMs: Date.UTC(2031, 2, 5) };
    expect(perDay([call(0), call(1)], span, dayOf)).toEqual([
      { day: '2031-03-02', annunciations: 0 },
      { day: '2031-03-03', annunciations: 2 },
      { day: '2031-03-04', annunciations: 0 },
    ]);
  });

  test('what calls most comes first, with its share', () => {
    const calls = [call(0), call(1), call(2), call(3, { chamber: 'load', signature: 'helium' })];
    expect(topOf(calls, 1)).toEqual([{ chamber: 'prep', signature: 'water', annunciations: 3, share: 0.75 }]);
  });
});
