/** Where a gas lies against its usual range before and after, and what follows from the two. */
import type { BeforeAfter } from '../contract/beforeAfter.ts';
import type { GasSide } from './gasSide.ts';
import { scatterHalf } from './robustMean.ts';

/** In ln(P/Pa), as it was learned from the chamber's quiet scans in the same state. */
export interface UsualRange {
  readonly lowLn: number;
  readonly highLn: number;
}

/** `unclear`: its interval reaches across the edge, or it is not seen and would not have to be. */
export type Place = 'inside' | 'above' | 'below' | 'not seen' | 'unclear' | 'no usual range' | 'not looked for';

export function placeOf(side: GasSide | null, usual: UsualRange | null): Place {
  if (side === null) return 'not looked for';
  const { mean, limitPa } = side;
  if (mean === null) {
    if (limitPa === null) return 'unclear';
    return usual === null || Math.log(limitPa) <= usual.highLn ? 'not seen' : 'unclear';
  }
  if (usual === null) return 'no usual range';
  // Sensitivity and patterns are those with which the range was learned: only the scatter counts.
  const half = scatterHalf(mean);
  if (mean.ln - half > usual.highLn) return 'above';
  if (mean.ln + half > usual.highLn) return 'unclear';
  return mean.ln < usual.lowLn ? 'below' : 'inside';
}

export type Judgement = BeforeAfter['gases'][number]['judgement'];

export function judged(before: Place, after: Place): Judgement {
  switch (after) {
    case 'above':
      return before === 'inside' || before === 'not seen' || before === 'below' ? 'above now' : 'still above';
    case 'inside':
      return before === 'above' ? 'back' : 'as usual';
    case 'below':
      return 'below usual';
    case 'not seen':
      return before === 'above' || before === 'no usual range' ? 'below detection again' : 'not seen';
    case 'unclear':
      return 'at the edge';
    default:
      return after;
  }
}

/** Back where it was before the fault: in the range, under it, or not seen with a limit that lies under its upper edge. */
export const isBack = (after: Place): boolean => after === 'inside' || after === 'below' || after === 'not seen';
