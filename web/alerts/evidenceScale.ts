/**
 * The pictures of a table of evidence share one channel: each row has an axis of its own, scaled so that what was
 * expected always has the same place and width. What does not fit sticks out of the channel.
 */
export interface Finding {
  readonly value: number | null;
  readonly low?: number | null | undefined;
  readonly high?: number | null | undefined;
  readonly expectedLow?: number | null | undefined;
  readonly expectedHigh?: number | null | undefined;
}

export const PICTURE = { width: 220, height: 36 } as const;
/** The channel: a third of the picture, in its middle. */
export const CHANNEL = { left: 72.6, right: 147.4 } as const;
const EDGE = 4;
/** An "at most" arrow needs this much room to its left. */
const ARROW = 30;

export interface EvidenceDrawing {
  /** Where the value stands; null when it cannot be told. */
  readonly mark: number | null;
  readonly line: { readonly from: number; readonly to: number } | null;
  /** "At most this": an arrow to the left, ending at a stop. */
  readonly atMost: number | null;
  /** The mark or the stop lies beyond the picture. */
  readonly beyond: 'left' | 'right' | null;
}

const isNumber = (value: number | null | undefined): value is number =>
  typeof value === 'number' && Number.isFinite(value);

/** Null when there is no expected range to compare with. */
export function drawEvidence(finding: Finding): EvidenceDrawing | null {
  const { expectedLow, expectedHigh } = finding;
  if (!isNumber(expectedLow) || !isNumber(expectedHigh) || expectedHigh <= expectedLow) return null;
  const logarithmic = expectedLow > 0;
  const axis = (value: number) => (logarithmic ? Math.log10(value) : value);
  const place = (value: number): number => {
    if (logarithmic && value <= 0) return EDGE;
    const share = (axis(value) - axis(expectedLow)) / (axis(expectedHigh) - axis(expectedLow));
    return CHANNEL.left + share * (CHANNEL.right - CHANNEL.left);
  };
  const clamp = (x: number) => Math.max(EDGE, Math.min(PICTURE.width - EDGE, x));
  const { value, low, high } = finding;
  const nothing = !isNumber(value) || (logarithmic && value <= 0);
  if (nothing) {
    return isNumber(high)
      ? { mark: null, line: null, atMost: Math.max(ARROW, clamp(place(high))), beyond: null }
      : null;
  }
  const x = place(value);
  return {
    mark: clamp(x),
    line: isNumber(low) && isNumber(high) ? { from: clamp(place(low)), to: clamp(place(high)) } : null,
    atMost: null,
    beyond: x < EDGE ? 'left' : x > PICTURE.width - EDGE ? 'right' : null,
  };
}
