/**
 * Many vectors of one length from few blocks of memory: a typed array of its own for each costs the collector more
 * than its arithmetic costs the processor.
 */
const ROWS_PER_BLOCK = 24;

/** Zeros; `most`: of how many rows a block is made at a time. */
export function makeRows(length: number, most = ROWS_PER_BLOCK): () => Float64Array {
  let block = new Float64Array(0);
  let used = 0;
  return () => {
    if (used + length > block.length) {
      block = new Float64Array(most * length);
      used = 0;
    }
    used += length;
    return new Float64Array(block.buffer, (used - length) * Float64Array.BYTES_PER_ELEMENT, length);
  };
}

/** A row multiplied: a loop, since `map` costs three times as much and a naming does this by the thousand. */
export function scaledBy(row: Float64Array, factor: number): Float64Array {
  const out = new Float64Array(row.length);
  for (let i = 0; i < out.length; i++) out[i] = row[i]! * factor;
  return out;
}

/** Made when it is first asked for, and once. */
export function once<T>(make: () => T): () => T {
  let made: T | undefined;
  return () => {
    made ??= make();
    return made;
  };
}

const BLOCK = 8192;
let shared = new Float64Array(BLOCK);
let taken = 0;

/** Zeros for the length of one scan. What is kept for longer has blocks of its own, or it would hold those of others. */
export function vector(length: number): Float64Array {
  if (taken + length > shared.length) {
    shared = new Float64Array(Math.max(BLOCK, length));
    taken = 0;
  }
  taken += length;
  return new Float64Array(shared.buffer, (taken - length) * Float64Array.BYTES_PER_ELEMENT, length);
}
