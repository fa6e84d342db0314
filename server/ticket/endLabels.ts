/** Where the words beside the picture's lines stand: none on another, and all of them within the picture. */

/**
 * Heights pushed apart until each is at least `gap` from the next, in their own order, moved as little as that needs,
 * and kept between `top` and `bottom`. With more labels than have room there, they run out at the top.
 */
export const spread = (heights: readonly number[], gap: number, top: number, bottom: number): number[] => {
  const order = heights.map((y, i) => ({ y, i })).sort((a, b) => a.y - b.y || a.i - b.i);
  let last = Number.NEGATIVE_INFINITY;
  for (const label of order) {
    label.y = Math.max(label.y, top, last + gap);
    last = label.y;
  }
  let next = bottom + gap;
  for (const label of order.toReversed()) {
    label.y = Math.min(label.y, next - gap);
    next = label.y;
  }
  const out = new Array<number>(heights.length).fill(0);
  for (const { y, i } of order) out[i] = y;
  return out;
};

/** Lines of at most `signs` letters, parted between words; a word that is longer stands alone. */
export const wrapped = (text: string, signs: number): string[] => {
  const lines: string[] = [];
  for (const word of text.split(/\s+/).filter((one) => one !== '')) {
    const line = lines.at(-1);
    if (line !== undefined && line.length + 1 + word.length <= signs) lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  return lines;
};
