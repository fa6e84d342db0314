import type { Profile } from './strongPeaks.ts';

/**
 * Points at the floor inside a peak: an electrometer that was being switched, a lost value written as zero. One or two
 * in a row, with points high above them on either side, no peak can hold: they are not used.
 */
const LARGEST_GAP = 2;
/** A gap lies below this share of the lower of the two points beside it. */
const GAP_SHARE = 0.1;
/** Looked for this far from the place of the peak, in widths: there a peak still has half of its height. */
const REACH_WIDTHS = 0.5;

export interface GapQuestion {
  readonly position: number;
  readonly widthU: number;
  readonly level: number;
  /** Points lower than this above the level are no side of a gap. */
  readonly least: number;
}

/** Indices of points not to be used; mostly none. */
export function gapsIn({ first, perUnit, values }: Profile, question: GapQuestion): readonly number[] {
  const { position, widthU, level, least } = question;
  const centre = (position - first) * perUnit;
  const begin = Math.max(1, Math.ceil(centre - REACH_WIDTHS * widthU * perUnit));
  const end = Math.min(values.length - 2, Math.floor(centre + REACH_WIDTHS * widthU * perUnit));
  let gaps: number[] | null = null;
  for (let i = begin; i <= end; i++) {
    const left = values[i - 1]! - level;
    const limit = GAP_SHARE * left;
    if (!(left > least && values[i]! - level < limit)) continue;
    for (let length = 1; length <= LARGEST_GAP && i + length < values.length; length++) {
      const right = values[i + length]! - level;
      if (right > least && values[i]! - level < GAP_SHARE * right) {
        gaps ??= [];
        for (let k = 0; k < length; k++) gaps.push(i + k);
        i += length;
        break;
      }
      if (!(right < limit)) break;
    }
  }
  return gaps ?? NONE;
}

const NONE: readonly number[] = [];
