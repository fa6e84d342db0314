/**
 * The leak that a gas of air speaks for, before and after: Q = (P − P usual) · S / x, with the pumping speed S for that gas
 * and its share x of air. Argon is the honest one: nothing in a chamber eats it.
 *
 * Example: 1×10⁻⁹ Pa of argon above its usual, S = 250 l/s, x = 0.00934 → 2.7×10⁻⁸ Pa·m³/s.
 */
import type { GasSide } from './gasSide.ts';
import { TWO_SIDED_95 } from './meanError.ts';

/** 1 l/s = 10⁻³ m³/s. */
const CUBIC_METRES_PER_LITRE = 1e-3;
/** A pumping speed at the chamber is known to about 10 % when someone has written it down (our judgement). */
const SPEED_SPREAD = 0.1;

export interface InflowQuestion {
  readonly before: GasSide;
  readonly after: GasSide;
  /** What the chamber holds of the gas without a leak: middle and one standard deviation. */
  readonly usual: { readonly middlePa: number; readonly sigmaPa: number };
  readonly litresPerSecond: number;
  /** Mole fraction of the gas in dry air. */
  readonly share: number;
}

/** Pa·m³/s of air. Null: not beyond what can be told; `high` is then the upper end. */
export interface Inflow {
  readonly value: number | null;
  readonly low: number;
  readonly high: number;
}

export interface InflowChange {
  readonly before: Inflow;
  readonly after: Inflow;
  /** Before over after; what both share (sensitivity, pumping speed) is not in it. */
  readonly timesLessAtLeast: number;
}

interface Excess {
  readonly valuePa: number;
  readonly sigmaPa: number;
}

const excessOf = (side: GasSide, usual: InflowQuestion['usual']): Excess | null => {
  if (side.mean === null) return null;
  const pressurePa = Math.exp(side.mean.ln);
  return {
    valuePa: pressurePa - usual.middlePa,
    sigmaPa: Math.hypot(pressurePa * Math.hypot(side.mean.sigma, side.pattern), usual.sigmaPa),
  };
};

/** Null where nothing stood above the usual before: there was no leak to compare. */
export function airInflow({ before, after, usual, litresPerSecond, share }: InflowQuestion): InflowChange | null {
  const perPascal = (litresPerSecond * CUBIC_METRES_PER_LITRE) / share;
  const [first, second] = [excessOf(before, usual), excessOf(after, usual)];
  if (first === null || first.valuePa <= TWO_SIDED_95 * first.sigmaPa) return null;
  const spread = (side: GasSide) => Math.exp(TWO_SIDED_95 * Math.hypot(side.lasting, SPEED_SPREAD));
  const least = (one: Excess) => one.valuePa - TWO_SIDED_95 * one.sigmaPa;
  const most = (one: Excess) => Math.max(0, one.valuePa) + TWO_SIDED_95 * one.sigmaPa;
  const inflow = (one: Excess, side: GasSide): Inflow => {
    const told = least(one) > 0;
    return {
      value: told ? one.valuePa * perPascal : null,
      low: told ? (least(one) * perPascal) / spread(side) : 0,
      high: most(one) * perPascal * spread(side),
    };
  };
  const afterMost = second === null ? after.limitPa : most(second);
  if (afterMost === null || !(afterMost > 0)) return null;
  return {
    before: inflow(first, before),
    after:
      second === null
        ? { value: null, low: 0, high: afterMost * perPascal * Math.exp(TWO_SIDED_95 * SPEED_SPREAD) }
        : inflow(second, after),
    timesLessAtLeast: least(first) / afterMost,
  };
}
