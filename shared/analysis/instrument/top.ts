/**
 * Where the detector ends: a top height that comes back to the last digit is the end of its scale, not a gas.
 */
export interface TopMemory {
  readonly value: number;
  /** Scans in a row with exactly this top height. */
  readonly repeats: number;
  /** Number that stands for all other heights: the same again is a repeated scan and tells nothing. */
  readonly rest: number;
  /** Lowest and highest of the second highest peak while the top has repeated: what a living peak does meanwhile. */
  readonly second: readonly [number, number];
  /** Top height that was seen to be the end; null: none yet. */
  readonly fullScale: number | null;
}

export const NO_TOP: TopMemory = { value: 0, repeats: 0, rest: 0, second: [0, 0], fullScale: null };

/** The watch calls a single fixed top saturated after eight scans; the height is remembered from then on. */
const REPEATS_NEEDED = 8;
/** Heights with fewer digits than this repeat by themselves. */
const DIGITS = 4;
/**
 * A peak that is written in steps repeats by itself, unless its neighbour moves by more than so many of its steps, and by
 * more than five digits would hide: a gateway that converts units leaves the steps and hides that there are any.
 */
const STEPS_MOVED = 5;
const LEAST_MOVED = 3e-4;

export function learnTop(memory: TopMemory, heights: Float64Array, cutOff: boolean): TopMemory {
  let top = Number.NEGATIVE_INFINITY;
  for (const height of heights) if (height > top) top = height;
  if (!(top > 0) || !Number.isFinite(top)) return memory;
  let rest = 0;
  for (const height of heights) if (height !== top && Number.isFinite(height)) rest += height;
  const isSame = top === memory.value;
  const next = secondOf(heights, top);
  const second: [number, number] = isSame
    ? [Math.min(memory.second[0], next), Math.max(memory.second[1], next)]
    : [next, next];
  const repeats = isSame ? memory.repeats + (rest !== memory.rest && hasFineDigits(heights) ? 1 : 0) : 0;
  const moved = second[1] - second[0];
  const lives = moved > LEAST_MOVED * second[1];
  const ends = cutOff || (repeats >= REPEATS_NEEDED && lives && moved > STEPS_MOVED * stepOf(heights, top));
  // A peak above it shows that the scale was changed.
  const known = memory.fullScale !== null && top > memory.fullScale ? null : memory.fullScale;
  return { value: top, repeats: Math.min(REPEATS_NEEDED, repeats), rest, second, fullScale: ends ? top : known };
}

function hasFineDigits(heights: Float64Array): boolean {
  let fine = 0;
  for (const height of heights) if (Number(height.toPrecision(DIGITS)) !== height) fine++;
  return 2 * fine > heights.length;
}

function secondOf(heights: Float64Array, top: number): number {
  let second = 0;
  for (const height of heights) if (height < top && height > second) second = height;
  return second;
}

/** Heights that are told with few digits come in steps: the one at the top height. */
function stepOf(heights: Float64Array, top: number): number {
  let digits = 1;
  for (const height of heights) {
    const mantissa = Math.abs(height).toExponential().split('e')[0] ?? '';
    digits = Math.max(digits, mantissa.replace('.', '').length);
  }
  return 10 ** (Math.floor(Math.log10(top)) + 1 - digits);
}
