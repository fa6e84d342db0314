/**
 * Many vectors of one length from few blocks of memory: a typed array of its own for each costs the collector more
 * than its arithmetic costs the processor.
 */
const ROWS_PER_BLOCK = 24;

export function makeRows(length: number): () => Float64Array {
  let block = new Float64Array(0);
  let used = 0;
  return () => {
    if (used + length > block.length) {
      block = new Float64Array(ROWS_PER_BLOCK * length);
      used = 0;
    }
    used += length;
    return block.subarray(used - length, used);
  };
}
