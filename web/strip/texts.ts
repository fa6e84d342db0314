/** Factors and names of gases in a strip: set in 11 px, around their marks, never over one another. */
/** A text around its middle; `y` is its base line. */
export interface PlacedText {
  readonly text: string;
  readonly x: number;
  readonly y: number;
}

/** From one line of text to the next. */
export const LABEL_LINE = 12;
/** A text of 11 px reaches this far above and below its base line. */
export const TEXT_ABOVE = LABEL_LINE - 2;
export const TEXT_BELOW = 3;
const NARROW_SIGNS = /[.,\u202f\u00a0 fijlrt()₀-₉]/;
const WIDE_SIGNS = /[mwA-Z]/;

/** Width of a text in 11 px semibold, near enough for keeping two of them apart. */
export const textWidth = (text: string): number =>
  [...text].reduce((sum, sign) => sum + (NARROW_SIGNS.test(sign) ? 3.9 : WIDE_SIGNS.test(sign) ? 7.2 : 6.2), 0);

const touch = (a: PlacedText, b: PlacedText): boolean =>
  Math.abs(a.x - b.x) < (textWidth(a.text) + textWidth(b.text)) / 2 && Math.abs(a.y - b.y) < LABEL_LINE - 1;

/** The text, moved away from the line by whole lines until it touches none that stands already. */
export function clear(text: PlacedText, step: number, standing: readonly PlacedText[]): PlacedText {
  let moved = text;
  // Each of the others can be in the way of two places, one step from the other.
  for (let tries = 0; tries <= 2 * standing.length && standing.some((other) => touch(other, moved)); tries += 1) {
    moved = { ...moved, y: moved.y + step };
  }
  return moved;
}

/** Around its mark, but never beyond the ends of the line. */
export function placed(text: string, { x, y, width }: { x: number; y: number; width: number }): PlacedText {
  const half = textWidth(text) / 2;
  return { text, x: Math.max(half, Math.min(width - half, x)), y };
}
