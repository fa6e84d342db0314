/** Weeks of daily medians with a known drift per gas. */
import { describe, expect, test } from 'vitest';
import { followGetter, type GetterDay, lossOf, NOT_PUMPED, PUMPED } from '../../../shared/watch/getter.ts';
import { emptyMemory } from '../../../shared/watch/memory.ts';
import type { WatchEvent } from '../../../shared/watch/types.ts';
import { watched } from '../../support/world/frames.ts';
import { makeRandom } from '../../support/world/random.ts';

const GASES = [...PUMPED, ...NOT_PUMPED];
const random = makeRandom(4);

/** `perWeek`: decades, in the order CO, N2, H2, CH4, Ar. */
const weeks = (perWeek: readonly (number | null)[], days = 28, noise = 0.02): GetterDay[] =>
  Array.from({ length: days }, (_, day) => ({
    day,
    log10: perWeek.map((rate) => (rate === null ? null : -7 + (rate * day) / 7 + noise * random.normal())),
  }));

describe('a getter that is full', () => {
  test('what it pumps rises, what it does not stays', () => {
    const loss = lossOf(weeks([0.1, 0.08, 0.06, 0, 0]))!;
    expect(loss.clear).toBe(true);
    expect(loss.decades).toBeGreaterThan(0.3);
    expect(loss.low).toBeLessThan(0.1);
    expect(loss.high).toBeGreaterThan(0.1);
  });

  test.each([
    ['all rise alike: a pump or the analyser', [0.1, 0.1, 0.1, 0.1, 0.1]],
    ['carbon monoxide alone', [0.1, 0, 0, 0, 0]],
    ['hydrogen rises with it and nitrogen does not: a warm surface', [0.1, 0, 0.08, 0, 0]],
    ['nothing moves', [0, 0, 0, 0, 0]],
    ['they fall', [-0.1, -0.1, -0.1, 0, 0]],
    ['methane rises with them', [0.1, 0.1, 0.1, 0.08, 0]],
  ] as const)('%s is none', (_name, perWeek) => {
    expect(lossOf(weeks(perWeek))!.clear).toBe(false);
  });

  test('where nitrogen is not seen nobody knows', () => {
    expect(lossOf(weeks([0.1, null, 0.08, 0, 0]))!.clear).toBe(false);
  });

  test('two weeks at least, and a gas of each group', () => {
    expect(lossOf(weeks([0.2, 0.2, 0.2, 0, 0], 13))).toBeNull();
    expect(lossOf(weeks([0.2, 0.2, 0.2, null, null]))).toBeNull();
  });
});

test('day by day from the scans: called once, and over after an activation', () => {
  const { last } = watched(5);
  const memory = emptyMemory('1', 'base', 0);
  const events: WatchEvent[] = [];
  let filled = 0;
  for (let hour = 0; hour < 60 * 24; hour++) {
    const atMs = hour * 3_600_000;
    if (hour === 32 * 24) filled = hour;
    const decades = (0.1 * (hour - filled)) / 168;
    const gases = GASES.map((gas, i) => {
      const valuePa = 1e-8 * 10 ** ((i < 3 ? decades : 0) + 0.02 * random.normal());
      return { gas, valuePa, lowPa: 0, highPa: 1, sigmaPa: 1e-10, detected: true };
    });
    const input = { ...last, scan: { ...last.scan, atMs }, analysis: { ...last.analysis, gases } };
    for (const event of followGetter(memory, input)) events.push(event);
  }
  expect(events.map(({ kind }) => kind).slice(0, 2)).toEqual(['raised', 'returned']);
  expect(events[0]).toMatchObject({ signature: 'pumping-loss', priority: 'low', gases: ['CO', 'N2', 'H2'] });
  expect(events[0]!.kind === 'raised' && events[0]!.finding.summary).toMatch(
    /^Carbon monoxide, nitrogen and hydrogen rise against methane and argon, .* a getter is losing its capacity/,
  );
  expect(memory.overTime.getter.days.length).toBeLessThanOrEqual(42);
});
