/** Ageing at a known rate. */
import { describe, expect, test } from 'vitest';
import { followLife, forecastOf, forecastsOf, type LifePoint, lifeNow } from '../../../shared/watch/endOfLife.ts';
import { judgeLife } from '../../../shared/watch/endOfLifeCall.ts';
import { emptyMemory, sealed } from '../../../shared/watch/memory.ts';
import type { WatchEvent, WatchInput } from '../../../shared/watch/types.ts';
import { watched } from '../../support/world/frames.ts';
import { makeRandom } from '../../support/world/random.ts';

const { last } = watched(5);
const random = makeRandom(8);
const series = (days: number, perDay: number, noise = 0.005): LifePoint[] =>
  Array.from({ length: days }, (_, day) => [day, 10 + perDay * day + noise * random.normal()] as const);

describe('forecast', () => {
  test('a steady loss has a date with an interval that holds it', () => {
    // From 10 at −0.02 a day: half is reached ln 2 / 0.02 = 34.7 days after the start, 14.7 after day 20.
    const forecast = forecastOf(series(21, -0.02), 10 - Math.LN2)!;
    expect(forecast.days.earliest).toBeLessThan(14.7);
    expect(forecast.days.latest).toBeGreaterThan(14.7);
    expect(forecast.days.at).toBeGreaterThan(12);
    expect(forecast.days.at).toBeLessThan(18);
  });

  test('what stands still has none; what is short is none', () => {
    expect(forecastOf(series(30, 0), 10 - Math.LN2)!.days.latest).toBe(Number.POSITIVE_INFINITY);
    expect(forecastOf(series(7, -0.1), 9)).toBeNull();
    expect(
      forecastOf(
        series(30, -0.1).map(([, value], i) => [i / 10, value] as const),
        9,
      ),
    ).toBeNull();
    expect(forecastOf([], 1)).toBeNull();
  });

  test('each kind has a level of its own', () => {
    const forecasts = forecastsOf({ gain: series(20, -0.05), sensitivity: [], floor: series(20, 0.02) });
    expect(forecasts.gain!.level).toBeLessThan(10 - 0.5);
    expect(forecasts.sensitivity).toBeNull();
    expect(forecasts.floor!.level).toBeGreaterThan(10.9);
  });
});

/** One scan an hour: κ rises as the analyser loses sensitivity. */
function age(days: number, perDay: (day: number) => number) {
  const memory = emptyMemory('1', 'base', 0);
  const events: { event: WatchEvent; day: number }[] = [];
  let ln = 0;
  for (let hour = 0; hour < 24 * days; hour++) {
    ln += perDay(hour / 24) / 24;
    const input: WatchInput = {
      ...last,
      scan: { ...last.scan, atMs: hour * 3_600_000 },
      analysis: { ...last.analysis, kappa: Math.exp(-ln + 0.01 * random.normal()), floorPa: 1e-10 },
    };
    for (const event of judgeLife(memory, input)) events.push({ event, day: hour / 24 });
  }
  return { memory, events };
}

describe('said aloud', () => {
  test('only within a week of the end', () => {
    // Half is reached ln 2 / 0.03 = 23 days after the start.
    const { events, memory } = age(26, () => -0.03);
    expect(events).toHaveLength(1);
    const [{ event, day }] = events as [(typeof events)[number]];
    expect(day).toBeGreaterThan(14);
    expect(day).toBeLessThan(23);
    expect(event).toMatchObject({ kind: 'raised', signature: 'sensitivity-drift', priority: 'low' });
    expect(event.kind === 'raised' && event.finding.summary).toMatch(
      /comes to half of what it began with in .* plan the exchange/,
    );
    expect(lifeNow(JSON.parse(JSON.stringify(sealed(memory)))).sensitivity!.perDay).toBeCloseTo(-0.03, 2);
  });

  test('an analyser that ages as usual is not: five per cent a month', () => {
    expect(age(60, () => -0.05 / 30).events).toEqual([]);
  });

  test('nothing is known of an empty memory', () => {
    expect(lifeNow({})).toEqual({ gain: null, sensitivity: null, floor: null });
  });
});

test('a gain that was measured is written down once', () => {
  const memory = emptyMemory('1', 'gas-on', 0);
  const gain = { value: 2000, uncertainty: 0.03, from: 'pair' as const, atMs: 5 * 86_400_000 };
  const input = {
    ...last,
    analysis: { ...last.analysis, measurement: { ...last.analysis.measurement!, gain } },
  };
  expect(followLife(memory, input)).toBe(true);
  expect(followLife(memory, input)).toBe(false);
  expect(memory.overTime.life.gain).toEqual([[5, Number(Math.log(2000).toFixed(4))]]);
});
