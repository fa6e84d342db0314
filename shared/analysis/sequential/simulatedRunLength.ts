/**
 * Run lengths of charts on values that remember each other, by simulation: tables are for independent values, and with
 * a correlation of one half they promise several times too much.
 */
import { advanceCusum, type CusumDesign, startCusum } from './cusum.ts';

export interface Autoregression {
  /** φ: correlation of a value with the one before; unit variance whatever it is. */
  readonly correlation: number;
  readonly runs: number;
  /** Standard normal, seeded by who calls. */
  readonly normal: () => number;
}

/** Mean number of values to a signal of the upper sum on a first-order autoregression that starts in its steady state. */
export function simulatedRunLength(design: CusumDesign, { correlation, runs, normal }: Autoregression): number {
  const fresh = Math.sqrt(1 - correlation * correlation);
  let values = 0;
  for (let run = 0; run < runs; run++) {
    let value = normal();
    let sums = advanceCusum(startCusum(design), value, design);
    values++;
    while (sums.high <= design.interval) {
      value = correlation * value + fresh * normal();
      sums = advanceCusum(sums, value, design);
      values++;
    }
  }
  return values / runs;
}
