import { plain, thousands } from '../notation/number.ts';
import { words } from '../strings/compare.ts';

/** A ratio with its interval; null ends are not known. */
export interface Ratio {
  readonly ratio: number | null;
  readonly ratioLow: number | null;
  readonly ratioHigh: number | null;
}

/** `37`, `1.1`, `1 700`: how many times, from 1 up; two digits, three below 2 so that 1.04 and 1.1 are not the same. */
export const size = (ratio: number, below2 = 2): string => {
  const times = ratio >= 1 ? ratio : 1 / ratio;
  return times >= 1000
    ? thousands(String(Math.round(Number(times.toPrecision(2)))))
    : plain(times, times < 2 ? below2 : 2);
};

/** `×4.1`, `÷2.5`. What rounds to 1 has no direction: it is written as `×1.0`. */
export const times = (ratio: number, below2 = 2): string => {
  const text = size(ratio, below2);
  return `${ratio >= 1 || Number(text) === 1 ? '×' : '÷'}${text}`;
};

/** `÷37 (31–45)`, `÷1 700 at least`, `×1.1 (÷1.1 to ×1.2)` or `cannot tell`. */
export function factorText({ ratio, ratioLow, ratioHigh }: Ratio, below2 = 2): string {
  if (ratio !== null && ratio > 0) {
    if (ratioLow === null || ratioHigh === null || ratioLow <= 0) return times(ratio, below2);
    const bounds = [times(ratioLow, below2), times(ratioHigh, below2)];
    const sides = new Set(
      [...bounds, times(ratio, below2)].filter((text) => Number(text.slice(1)) !== 1).map((text) => text[0]),
    );
    if (sides.size > 1) return words.rangeTo(times(ratio, below2), bounds[0] ?? '', bounds[1] ?? '');
    const [a = '', b = ''] = bounds.map((text) => text.slice(1));
    const fell = sides.has('÷');
    return `${fell ? '÷' : '×'}${size(ratio, below2)} (${fell ? `${b}–${a}` : `${a}–${b}`})`;
  }
  if (ratioHigh !== null && ratioHigh > 0 && ratioHigh < 1) return words.leastAfter(times(ratioHigh));
  if (ratioLow !== null && ratioLow > 1) return words.leastAfter(times(ratioLow));
  return words.cannot;
}

export interface Times {
  readonly n: string;
  /** It is a bound: so many, or more. */
  readonly atLeast: boolean;
}

/** How many times, up or down, for a sentence; null: it cannot be told. */
export function timesOf({ ratio, ratioLow, ratioHigh }: Ratio): Times | null {
  if (ratio !== null) return { n: size(ratio), atLeast: false };
  if (ratioHigh !== null && ratioHigh < 1 && ratioHigh > 0) return { n: size(ratioHigh), atLeast: true };
  if (ratioLow !== null && ratioLow > 1) return { n: size(ratioLow), atLeast: true };
  return null;
}
