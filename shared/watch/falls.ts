/**
 * Which gases have clearly fallen in a change. Less of a gas is no news, and held against its small wobble it would push
 * other gases up to make good for it: in the model that rises are judged by, such a gas is free to have fallen.
 */
import { type NullInput, noiseFactor } from './nullModel.ts';
import { relativeAt, usualAt } from './ownGases.ts';

/** The lanes free only what can be no wobble and no noise: a fall of less moves another gas's statistic by less than that. */
const CLEAR_FALL_SIGMAS = 3;
/** Falls are told in steps of half as much again, so that a model is good for the scans that follow. */
const FALL_STEP = Math.log(1.5);

/**
 * How far each gas has clearly fallen in a change, in steps; null: none has. `weights` as the model without falls gave
 * them.
 */
export function fallsOf(
  { memory, baseline, reference, lane }: NullInput,
  weights: readonly number[],
  change: Float64Array,
): number[] | null {
  const noise = noiseFactor(lane, memory.periodSeconds);
  let falls: number[] | null = null;
  for (let g = 0; g < weights.length; g++) {
    const spectrum = reference.spectra[g]!;
    const fall = -relativeAt(spectrum, change, baseline);
    if (!(fall > CLEAR_FALL_SIGMAS * weights[g]!)) continue;
    const usual = usualAt(spectrum, baseline);
    const least =
      CLEAR_FALL_SIGMAS * Math.sqrt(weights[g]! ** 2 + (noise * baseline.variance[spectrum.own.marker]!) / usual ** 2);
    if (fall <= least) continue;
    falls ??= new Array<number>(weights.length).fill(0);
    falls[g] = least * Math.exp(FALL_STEP * Math.ceil(Math.log(fall / least) / FALL_STEP));
  }
  return falls;
}
