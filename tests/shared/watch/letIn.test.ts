import { describe, expect, test } from 'vitest';
import { goesOn, highestOf, likeLetIn, longestOf, rememberLetIn, standsAt } from '../../../shared/watch/letIn.ts';
import type { LetIn } from '../../../shared/watch/stateMemory.ts';

const MASSES = [14, 28, 40, 52];
const excess = (...heights: number[]) => Float64Array.from([0, ...heights]);
const scan = (heights: Float64Array, seconds = 600, state = 'gas-on', atMs = 1000 * seconds) => ({
  state,
  masses: MASSES,
  excess: heights,
  seconds,
  atMs,
});
const known = (...scans: Parameters<typeof rememberLetIn>[1][]): readonly LetIn[] =>
  scans.reduce<readonly LetIn[]>(rememberLetIn, []);
const seen = (heights: Float64Array) => ({ masses: MASSES, excess: heights });

describe('what a declared state lets in', () => {
  test('scans of one flow are one, with the mean of what was seen and the longest time', () => {
    const [one, ...others] = known(scan(excess(0, 0, 10, 0), 600), scan(excess(0, 0, 12, 0), 1200));
    expect(others).toEqual([]);
    expect(one).toMatchObject({ scans: 2, seconds: 1200, excess: [0, 0, 0, 11, 0] });
  });

  test('another gas, another level or another state is another one; ten are kept, the latest first', () => {
    const of = (heights: Float64Array, state?: string) => known(scan(excess(0, 0, 10, 0)), scan(heights, 700, state));
    expect(of(excess(0, 10, 0, 0))).toHaveLength(2);
    expect(of(excess(0, 0, 14, 0))).toHaveLength(2);
    expect(of(excess(0, 0, 10, 0), 'plasma')).toHaveLength(2);
    const many = known(...Array.from({ length: 14 }, (_, i) => scan(excess(0, 0, 2 ** i, 0), 60 * i)));
    expect(many).toHaveLength(10);
    expect(highestOf(many)).toBe(2 ** 13);
    expect(highestOf([])).toBeNull();
  });

  test('is known again within three times its level either way, by its direction', () => {
    const list = known(scan(excess(0, 0, 10, 5)));
    expect(likeLetIn(list, seen(excess(0, 0, 29, 14.5)), [])).toBe(list[0]);
    expect(likeLetIn(list, seen(excess(0, 0, 3.4, 1.7)), [])).toBe(list[0]);
    expect(likeLetIn(list, seen(excess(0, 0, 31, 15.5)), [])).toBeNull();
    expect(likeLetIn(list, seen(excess(0, 0, 10, 0)), [])).toBeNull();
    expect(standsAt(list[0]!, excess(0, 0, 13, 6.5))).toBe(true);
    expect(standsAt(list[0]!, excess(0, 0, 14, 7))).toBe(false);
  });

  test('air is not known by the nitrogen that was let in', () => {
    const list = known(scan(excess(9, 100, 0, 0)));
    expect(likeLetIn(list, seen(excess(9, 100, 0.2, 0)), [])).toBe(list[0]);
    // Argon in dry air: 1.2 % of nitrogen (US Standard Atmosphere 1976).
    expect(likeLetIn(list, seen(excess(9, 100, 1.2, 0)), [])).toBeNull();
  });

  test('goes on where the last scan of the state had it', () => {
    const list = known(scan(excess(0, 0, 10, 5), 600, 'gas-on', 7000));
    expect(goesOn(list, seen(excess(0, 0, 9, 4.5)), 'gas-on', 7000)).toBe(true);
    expect(goesOn(list, seen(excess(0, 0, 4, 2)), 'gas-on', 7000)).toBe(false);
    expect(goesOn(list, seen(excess(0, 0, 9, 4.5)), 'gas-on', 8000)).toBe(false);
    expect(goesOn(list, seen(excess(0, 0, 9, 4.5)), 'plasma', 7000)).toBe(false);
  });

  test('may last twice as long as the longest, at least half an hour; gas-on and plasma are one habit', () => {
    const list = known(scan(excess(0, 0, 10, 0), 3600), scan(excess(0, 10, 0, 0), 300, 'transfer'));
    expect(longestOf(list, 'plasma')).toBe(7200);
    expect(longestOf(list, 'transfer')).toBe(1800);
    expect(longestOf([], 'gas-on')).toBeNull();
  });
});
