/**
 * How far each statistic of this chamber reaches out while nothing is wrong: the highest value of every quiet eight
 * hours. Loads that wander keep a statistic up for hours, and a table for independent values knows nothing of that
 * (with a correlation of one half from scan to scan its run length is off by nine).
 *
 * Maxima follow a Gumbel distribution. Location and scale by L-moments, λ₁ = ξ + γα, λ₂ = α ln 2 (J. R. M. Hosking,
 * J. R. Stat. Soc. B 52 (1990) 105), drawn towards what maxima of n normal values have: ξ = Φ⁻¹(1 − 1/n), α = 1/(n φ(ξ))
 * (E. J. Gumbel, Statistics of Extremes, 1958). Both carried out to the budget; the ratio widens the threshold and never
 * narrows it. The running mean is looked at, since a single spiked peak does not enter it; it speaks for single scans too.
 *
 * A chamber with few quiet hours is judged with more room: what is not known of it yet is not taken for granted.
 */
import { normalDensity, quantileOfTail } from '../analysis/sequential/normal.ts';
import { shareIn } from './budget.ts';
import type { Vector } from './memory.ts';
import { HOUR } from './parameters.ts';

export interface MaximaBook {
  /** Names of the statistics, in their order. */
  readonly keys: string;
  /** Quiet seconds of the present block, and its maxima so far, tenths of a sigma. */
  readonly seconds: number;
  readonly now: Vector;
  /** Maxima of the latest blocks, oldest first, and how many there have ever been. */
  readonly blocks: readonly Vector[];
  readonly count: number;
  /** By which the thresholds are widened, hundredths. */
  readonly factors: Vector;
}

const BLOCK_SECONDS = 8 * HOUR;
const MOST_BLOCKS = 18;
/** So many blocks weigh as much as what is foretold (as in the published study of block maxima: few blocks say little). */
const PRIOR_BLOCKS = 12;
/** Beyond this the chamber is too restless for the statistic; a real leak must not be hidden by what came before it. */
const MOST_WIDENING = 1.5;
/** Room of a chamber without a quiet block; it fades with the first days of them. */
const YOUNG_ROOM = 0.5;
const YOUNG_BLOCKS = 4;
const EULER = 0.5772156649;
/** A running mean of 25 scans has about two independent values in them. */
const LEAST_INDEPENDENT = 4;

export const emptyMaxima = (keys: string, count: number): MaximaBook => ({
  keys,
  seconds: 0,
  now: new Array<number>(count).fill(0),
  blocks: [],
  count: 0,
  factors: new Array<number>(count).fill(100),
});

export interface Gumbel {
  readonly location: number;
  readonly scale: number;
}

/** Unbiased sample L-moments; at least two values. */
export function gumbelByLMoments(values: readonly number[]): Gumbel {
  const sorted = [...values].sort((a, b) => a - b);
  const n = sorted.length;
  let b0 = 0;
  let b1 = 0;
  for (let i = 0; i < n; i++) {
    b0 += sorted[i]! / n;
    b1 += ((i / (n - 1)) * sorted[i]!) / n;
  }
  const scale = (2 * b1 - b0) / Math.LN2;
  return { location: b0 - EULER * scale, scale };
}

/** Of the largest of n normal values. */
export function gumbelOfNormal(n: number): Gumbel {
  const location = quantileOfTail(1 / n);
  return { location, scale: 1 / (n * normalDensity(location)) };
}

/** The value that a maximum exceeds with this probability. */
export const exceededWith = ({ location, scale }: Gumbel, probability: number): number =>
  location - scale * Math.log(-Math.log1p(-probability));

export interface QuietScan {
  readonly keys: string;
  /** The running mean's statistic per direction, sigma; not above zero: 0. */
  readonly z: Float64Array;
  readonly seconds: number;
  /** Scans of a block, and share of a new scan in the running mean. */
  readonly periodSeconds: number;
  readonly meanShare: number;
}

export function followMaxima(before: MaximaBook | undefined, scan: QuietScan): MaximaBook {
  const { keys, z, seconds } = scan;
  const book = before ? arranged(before, keys) : emptyMaxima(keys, z.length);
  let now: number[] | null = null;
  for (let i = 0; i < z.length; i++) {
    const tenths = Math.round(10 * z[i]!);
    if (tenths <= book.now[i]!) continue;
    now ??= [...book.now];
    now[i] = tenths;
  }
  const block = { ...book, now: now ?? book.now, seconds: book.seconds + seconds };
  return block.seconds < BLOCK_SECONDS ? block : closed(block, scan);
}

/** Another list of directions: what is known of those that stay is kept. */
function arranged(book: MaximaBook, keys: string): MaximaBook {
  if (book.keys === keys) return book;
  const old = book.keys.split(',');
  const places = keys.split(',').map((key) => old.indexOf(key));
  const take = (row: Vector, none: number) => places.map((place) => row[place] ?? none);
  const { now, blocks, factors } = book;
  return {
    ...book,
    keys,
    now: take(now, 0),
    blocks: blocks.map((block) => take(block, 0)),
    factors: take(factors, 100),
  };
}

function closed(book: MaximaBook, { z, periodSeconds, meanShare }: QuietScan): MaximaBook {
  const blocks = [...book.blocks, book.now].slice(-MOST_BLOCKS);
  const independent = Math.max(LEAST_INDEPENDENT, (BLOCK_SECONDS / periodSeconds) * meanShare);
  const normal = gumbelOfNormal(independent);
  const probability = shareIn(BLOCK_SECONDS, z.length);
  const foretold = exceededWith(normal, probability);
  const own = blocks.length / (blocks.length + PRIOR_BLOCKS);
  const factors = book.now.map((_, i) => {
    if (blocks.length < 2) return 100;
    const seen = gumbelByLMoments(blocks.map((block) => block[i]! / 10));
    const drawn = {
      location: own * seen.location + (1 - own) * normal.location,
      scale: own * seen.scale + (1 - own) * normal.scale,
    };
    const ratio = exceededWith(drawn, probability) / foretold;
    return Math.round(100 * Math.max(1, Math.min(MOST_WIDENING, ratio)));
  });
  return { ...emptyMaxima(book.keys, z.length), blocks, count: book.count + 1, factors };
}

/** A block in which something was called is no quiet one. */
export const dropBlock = (book: MaximaBook): MaximaBook =>
  book.seconds === 0 ? book : { ...book, seconds: 0, now: new Array<number>(book.now.length).fill(0) };

const youngRoom = (blocks: number): number => 1 + YOUNG_ROOM * Math.exp(-blocks / YOUNG_BLOCKS);

/**
 * By which the threshold of statistic i is widened, at least 1. What is not known of a young chamber are its gas loads;
 * of an analyser that moves everything by one factor a quarter of an hour tells as much as days (it must last longer, too).
 */
export function widening(book: MaximaBook | undefined, keys: string): (i: number, instrument?: boolean) => number {
  const known = book?.keys === keys ? book : null;
  const young = youngRoom(book?.count ?? 0);
  return (i, instrument = false) => Math.max(instrument ? 1 : young, (known?.factors[i] ?? 100) / 100);
}
