/**
 * Non-linear least squares of a few unknowns.
 * Source: D. W. Marquardt, J. Soc. Indust. Appl. Math. 11 (1963) 431; damping scaled by the columns as in J. J. Moré,
 * Lecture Notes in Mathematics 630 (1978) 105.
 */
import { solveLeastSquares } from './smallSystem.ts';

export interface Curve {
  /** Value at x. */
  readonly value: (x: number, parameters: readonly number[]) => number;
  /** Its derivatives by each parameter. */
  readonly gradient: (x: number, parameters: readonly number[]) => readonly number[];
}

export interface CurveFit {
  readonly parameters: readonly number[];
  /** One standard error each, from the scatter about the curve; NaN with as many points as unknowns. */
  readonly standardErrors: readonly number[];
  /** Σ (y − curve)² */
  readonly residualSum: number;
  /** √(residual sum / degrees of freedom) */
  readonly residualSigma: number;
  readonly iterations: number;
}

const MOST_ITERATIONS = 300;
const FIRST_DAMPING = 1e-3;
const LEAST_DAMPING = 1e-15;
const MOST_DAMPING = 1e12;
/** A step this small against its parameter ends the search: twelve digits are more than any pressure has. */
const STEP_TOLERANCE = 1e-13;

/** Null when it does not converge or the data cannot tell the parameters apart. */
export function fitCurve(
  curve: Curve,
  x: readonly number[],
  y: readonly number[],
  start: readonly number[],
): CurveFit | null {
  if (x.length < start.length) return null;
  let parameters = [...start];
  let residuals = residualsOf(curve, x, y, parameters);
  let sum = squares(residuals);
  let damping = FIRST_DAMPING;
  if (!Number.isFinite(sum)) return null;
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    const step = stepOf(curve, x, parameters, residuals, damping);
    const next = step === null ? null : parameters.map((value, k) => value + step[k]!);
    const nextResiduals = next === null ? null : residualsOf(curve, x, y, next);
    const nextSum = nextResiduals === null ? Number.POSITIVE_INFINITY : squares(nextResiduals);
    const isSmall = step?.every((value, k) => Math.abs(value) <= STEP_TOLERANCE * Math.abs(parameters[k]!)) ?? false;
    if (next !== null && nextSum <= sum) {
      parameters = next;
      residuals = nextResiduals!;
      sum = nextSum;
      damping = Math.max(LEAST_DAMPING, damping / 10);
    } else damping *= 10;
    // At the bottom rounding alone decides whether a step helps.
    if (isSmall) return finished(curve, x, parameters, sum, iteration);
    if (damping > MOST_DAMPING) return step === null ? null : finished(curve, x, parameters, sum, iteration);
  }
  return null;
}

const residualsOf = (curve: Curve, x: readonly number[], y: readonly number[], parameters: readonly number[]) =>
  x.map((at, i) => y[i]! - curve.value(at, parameters));

const squares = (values: readonly number[]): number => values.reduce((sum, value) => sum + value * value, 0);

function stepOf(
  curve: Curve,
  x: readonly number[],
  parameters: readonly number[],
  residuals: readonly number[],
  damping: number,
): number[] | null {
  const rows = x.map((at) => [...curve.gradient(at, parameters)]);
  const lengths = parameters.map((_, k) => Math.hypot(...rows.map((row) => row[k]!)));
  const damped = parameters.map((_, k) => parameters.map((__, j) => (j === k ? Math.sqrt(damping) * lengths[k]! : 0)));
  const fit = solveLeastSquares([...rows, ...damped], [...residuals, ...parameters.map(() => 0)]);
  return fit?.solution ?? null;
}

function finished(
  curve: Curve,
  x: readonly number[],
  parameters: readonly number[],
  residualSum: number,
  iterations: number,
): CurveFit | null {
  const system = solveLeastSquares(
    x.map((at) => curve.gradient(at, parameters)),
    x.map(() => 0),
  );
  if (system === null) return null;
  const freedom = x.length - parameters.length;
  const residualSigma = freedom > 0 ? Math.sqrt(residualSum / freedom) : Number.NaN;
  return {
    parameters,
    standardErrors: system.variances.map((variance) => residualSigma * Math.sqrt(variance)),
    residualSum,
    residualSigma,
    iterations,
  };
}
