/**
 * Where the detector ends: a top height that comes back to the last digit is the end of its scale, not a gas.
 */
export interface TopMemory {
  readonly value: number;
  /** Scans in a row with exactly this top height. */
  readonly repeats: number;
  /** Number that stands for all other heights: the same again is a repeated scan and tells nothing. */
  readonly rest: number;
  /** Top height that was seen to be the end; null: none yet. */
  readonly fullScale: number | null;
}

export const NO_TOP: TopMemory = { value: 0, repeats: 0, rest: 0, fullScale: null };

/** The watch calls a single fixed top saturated after eight scans; the height is remembered from then on. */
const REPEATS_NEEDED = 8;
/** Heights with fewer digits than this repeat by themselves. */
const DIGITS = 4;

export function learnTop(memory: TopMemory, heights: Float64Array, cutOff: boolean): TopMemory {
  let top = Number.NEGATIVE_INFINITY;
  for (const height of heights) if (height > top) top = height;
  if (!(top > 0) || !Number.isFinite(top)) return memory;
  let rest = 0;
  for (const height of heights) if (height !== top && Number.isFinite(height)) rest += height;
  const repeats = top !== memory.value ? 0 : memory.repeats + (rest !== memory.rest && hasFineDigits(heights) ? 1 : 0);
  const ends = cutOff || repeats >= REPEATS_NEEDED;
  // A peak above it shows that the scale was changed.
  const known = memory.fullScale !== null && top > memory.fullScale ? null : memory.fullScale;
  return { value: top, repeats: Math.min(REPEATS_NEEDED, repeats), rest, fullScale: ends ? top : known };
}

function hasFineDigits(heights: Float64Array): boolean {
  let fine = 0;
  for (const height of heights) if (Number(height.toPrecision(DIGITS)) !== height) fine++;
  return 2 * fine > heights.length;
}
