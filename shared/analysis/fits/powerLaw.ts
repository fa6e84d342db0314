/**
 * P = P₁ t^−α, the shape of a pump-down: α near 1 for water from metal, near ½ for diffusion out of polymers, near 0
 * for a leak or permeation (common practice); steeper is gas of the volume, which falls exponentially.
 */
import { type CurveFit, fitCurve } from './curveFit.ts';
import { type Slope, theilSen } from './theilSen.ts';

export interface PowerLaw {
  /** α with the bounds of its interval. */
  readonly exponent: number;
  readonly low: number;
  readonly high: number;
  /** log10 of the pressure at t = 1, in the units of the data. */
  readonly log10AtOne: number;
  readonly points: number;
}

/** Robust: Theil–Sen of log P against log t. Points with t or P not above zero take no part; null with fewer than two. */
export function robustPowerLaw(
  times: readonly number[],
  pressures: readonly number[],
  confidence = 0.95,
): PowerLaw | null {
  const usable = times.flatMap((t, i) => (t > 0 && pressures[i]! > 0 ? [i] : []));
  const slope: Slope | null = theilSen(
    usable.map((i) => Math.log10(times[i]!)),
    usable.map((i) => Math.log10(pressures[i]!)),
    confidence,
  );
  if (slope === null) return null;
  // A zero keeps its sign out of what people read.
  const turned = (value: number) => (value === 0 ? 0 : -value);
  return {
    exponent: turned(slope.slope),
    low: turned(slope.high),
    high: turned(slope.low),
    log10AtOne: slope.intercept,
    points: slope.points,
  };
}

/** y = b₁ x^b₂ with errors of one size in y: parameters [b₁, b₂]. x above zero; null when it does not converge. */
export const fitPowerLaw = (x: readonly number[], y: readonly number[], start: readonly number[]): CurveFit | null =>
  fitCurve(
    {
      value: (at, [factor, exponent]) => factor! * at ** exponent!,
      gradient: (at, [factor, exponent]) => [at ** exponent!, factor! * at ** exponent! * Math.log(at)],
    },
    x,
    y,
    start,
  );

export type SlopeClass = 'flat' | 'polymer' | 'water' | 'volume' | 'unclear';

/** Where one class ends and the next begins (our choice: midway, with flat a third of diffusion's). */
const FLAT_BELOW = 0.3;
const POLYMER_BELOW = 0.75;
const WATER_BELOW = 1.6;

/** What the exponent says where its whole interval lies in one class; `unclear` otherwise. */
export function slopeClass({ low, high }: Pick<PowerLaw, 'low' | 'high'>): SlopeClass {
  const [a, b] = [low, high].map(classOf);
  return a === b ? a! : 'unclear';
}

function classOf(exponent: number): SlopeClass {
  if (exponent < FLAT_BELOW) return 'flat';
  if (exponent < POLYMER_BELOW) return 'polymer';
  return exponent < WATER_BELOW ? 'water' : 'volume';
}
