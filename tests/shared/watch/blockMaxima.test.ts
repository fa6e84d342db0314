/**
 * Maxima of quiet blocks. Gumbel distribution: mean ξ + 0.5772 α, λ₂ = α ln 2 (J. R. M. Hosking, J. R. Stat. Soc. B 52
 * (1990) 105); maxima of n normal values: E. J. Gumbel, Statistics of Extremes (1958). Expected value of the largest of 100
 * normal values 2.5076 (H. L. Harter, Biometrika 48 (1961) 151, from memory).
 */
import { describe, expect, test } from 'vitest';
import {
  dropBlock,
  exceededWith,
  followMaxima,
  gumbelByLMoments,
  gumbelOfNormal,
  type MaximaBook,
  widening,
} from '../../../shared/watch/blockMaxima.ts';
import { makeRandom } from '../../support/world/random.ts';

const EULER = 0.5772156649;
const HOUR = 3600;
const KEYS = 'a.0,b.0,c.0';

/** Eight-hour blocks of hourly scans; `z` gives the three statistics of a scan. */
function blocks(count: number, z: (block: number, hour: number) => number[], keys = KEYS): MaximaBook {
  let book: MaximaBook | undefined;
  for (let block = 0; block < count; block++)
    for (let hour = 0; hour < 8; hour++)
      book = followMaxima(book, {
        keys,
        z: Float64Array.from(z(block, hour)),
        seconds: HOUR,
        periodSeconds: 300,
        meanShare: 0.08,
      });
  return book!;
}

describe('Gumbel by L-moments', () => {
  test('is half the mean difference of pairs: by hand', () => {
    // 1, 2, 4: pairs differ by 1, 3, 2; λ₂ = ½ · 2 = 1; mean 7/3.
    const { location, scale } = gumbelByLMoments([4, 1, 2]);
    expect(scale).toBeCloseTo(1 / Math.LN2, 12);
    expect(location).toBeCloseTo(7 / 3 - EULER / Math.LN2, 9);
  });

  test('finds the distribution that the values were drawn from', () => {
    const random = makeRandom(1);
    const values = Array.from({ length: 4000 }, () => 2 - 0.5 * Math.log(-Math.log(random.uniform())));
    const { location, scale } = gumbelByLMoments(values);
    expect(location).toBeCloseTo(2, 1);
    expect(scale).toBeCloseTo(0.5, 1);
  });

  test('the largest of a hundred normal values', () => {
    const { location, scale } = gumbelOfNormal(100);
    expect(location).toBeCloseTo(2.326, 3);
    expect(location + EULER * scale).toBeCloseTo(2.5076, 1);
    expect(exceededWith({ location, scale }, 1 - Math.exp(-1))).toBeCloseTo(location, 9);
  });
});

describe('how far a chamber reaches out', () => {
  const quiet = (block: number, hour: number) => [0.5 + 0.1 * ((block + hour) % 8), 0.6, 0];

  test('a young chamber has more room, which fades within days', () => {
    const room = (count: number) => widening(count === 0 ? undefined : blocks(count, quiet), KEYS)(0);
    expect(room(0)).toBeCloseTo(1.5, 6);
    expect(room(3)).toBeLessThan(1.3);
    expect(room(12)).toBeLessThan(1.04);
    expect(room(60)).toBeCloseTo(1, 3);
  });

  test('of a young chamber the gas loads are unknown, not the analyser', () => {
    expect(widening(undefined, KEYS)(0, true)).toBe(1);
    expect(widening(undefined, KEYS)(0, false)).toBeCloseTo(1.5, 6);
  });

  test('a restless statistic is widened by itself, and never by more than half', () => {
    const random = makeRandom(2);
    const restless = (block: number, hour: number) => [
      ...quiet(block, hour).slice(0, 1),
      hour === 3 ? 3 + 3 * random.uniform() : 0,
      0,
    ];
    const book = blocks(40, restless);
    const of = widening(book, KEYS);
    expect(of(0)).toBeCloseTo(1, 3);
    expect(of(1)).toBeGreaterThan(1.2);
    expect(of(1)).toBeLessThanOrEqual(1.5);
    expect(book.factors.every((factor) => factor >= 100)).toBe(true);
  });

  test('one bad block among many hardly counts', () => {
    const book = blocks(40, (block, hour) => [block === 30 && hour === 1 ? 6 : 1 + 0.2 * (block % 4), 0, 0]);
    expect(widening(book, KEYS)(0)).toBeLessThan(1.25);
  });

  test('a block in which something was called starts anew, what was learned stays', () => {
    const book = blocks(5, quiet);
    const begun = followMaxima(book, {
      keys: KEYS,
      z: Float64Array.of(5, 0, 0),
      seconds: HOUR,
      periodSeconds: 300,
      meanShare: 0.08,
    });
    expect(begun.now[0]).toBe(50);
    expect(dropBlock(begun)).toEqual({ ...begun, now: [0, 0, 0], seconds: 0 });
    expect(dropBlock(begun).blocks).toHaveLength(5);
  });

  test('another list of directions keeps what is known of those that stay', () => {
    const book = blocks(6, quiet);
    const next = followMaxima(book, {
      keys: 'c.0,a.0,new.0',
      z: new Float64Array(3),
      seconds: HOUR,
      periodSeconds: 300,
      meanShare: 0.08,
    });
    expect(next.blocks.map((block) => block[1])).toEqual(book.blocks.map((block) => block[0]));
    expect(next.blocks.every((block) => block[2] === 0)).toBe(true);
    expect(next.count).toBe(6);
  });

  test('what is remembered stays small and is plain JSON', () => {
    const book = blocks(50, quiet);
    expect(book.blocks.length).toBeLessThanOrEqual(18);
    expect(JSON.parse(JSON.stringify(book))).toEqual(book);
  });
});
