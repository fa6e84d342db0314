/**
 * Did it stand still while the scans were taken? Two figures for a positive quantity over scans in time order: how far
 * it went from the first third to the last, and how much it comes and goes beside that.
 */
export interface Steadiness {
  /** Mean of the last third over mean of the first. */
  readonly course: number;
  /** Standard deviation of the logarithm. */
  readonly spread: number;
}

/** Values that are not positive have no logarithm: they are left out; with fewer than two nothing moved. */
export function steadiness(values: readonly number[]): Steadiness {
  const logs = values.filter((value) => value > 0).map(Math.log);
  if (logs.length < 2) return { course: 1, spread: 0 };
  const third = Math.max(1, Math.floor(logs.length / 3));
  const mean = (part: readonly number[]) => part.reduce((sum, value) => sum + value, 0) / part.length;
  const centre = mean(logs);
  const squares = logs.reduce((sum, value) => sum + (value - centre) ** 2, 0);
  return {
    course: Math.exp(mean(logs.slice(-third)) - mean(logs.slice(0, third))),
    spread: Math.sqrt(squares / (logs.length - 1)),
  };
}

/** Went up or down by more than `factor`. */
export const hasMoved = ({ course }: Steadiness, factor: number): boolean => course > factor || course < 1 / factor;
